#include "bothways/launch/leave_one_out.hpp"

#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <cstddef>

using namespace bothways;
using Catch::Matchers::WithinRel;

namespace {

double weight_at(const WeightedWindow& weighted, const LaunchWindow& window, std::size_t i) {
  return window.readings[i].variance / weighted.window.readings[i].variance;
}

}  // namespace

TEST_CASE("a small outlier in the launch loses its weight, and its neighbours keep theirs", "[launch]") {
  LaunchModel model = model_for(0.03);
  model.motion.jerk_density = 0.3;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    CAPTURE(seed);
    LaunchWindow window = constant_start(3.02, 3.0, 0.03, seed);
    CHECK(weighted_readings(window, model, at_once()).outliers == 0);
    window.readings[34].z += 0.6;
    const WeightedWindow weighted = weighted_readings(window, model, at_once());
    CHECK(weighted.outliers == 1);
    CHECK(weight_at(weighted, window, 34) < 0.03);
    CHECK(weight_at(weighted, window, 36) > 0.8);
  }
}

TEST_CASE("several outliers side by side lose their weight together", "[launch]") {
  LaunchWindow window = constant_start(3.0, 3.0, 0.03, 5);
  for (const std::size_t i : {45U, 46U, 55U, 60U}) {
    window.readings[i].z += 3.0;
  }
  const WeightedWindow weighted = weighted_readings(window, model_for(0.03), at_once());
  CHECK(weighted.outliers == 4);
  CHECK(weight_at(weighted, window, 45) < 0.03);
  CHECK(weight_at(weighted, window, 50) > 0.8);
}

TEST_CASE("a launch that creeps loses no reading where its shape is known", "[launch]") {
  LaunchModel model = model_for(0.02);
  model.motion.jerk_density = 0.5;
  LaunchHypothesis creep;
  creep.shape.a_mps2.assign(10, 0.3);  // 0.45 s
  creep.shape.a_mps2.push_back(3.0);
  creep.shape.sd_mps2 = 0.45;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    const LaunchWindow window = start_of(
        [](double t_s) {
          const double tau = t_s - 3.0;
          return tau < 0.0 ? 0.0 : tau < 0.45 ? 0.3 * tau : 0.135 + 3.0 * (tau - 0.45);
        },
        0.02, seed);
    CHECK(weighted_readings(window, model, creep).outliers == 0);
  }
}

TEST_CASE("a reading as far off as its noise allows keeps nearly all its weight", "[launch]") {
  const LaunchWindow window = constant_start(3.0, 3.0, 0.05, 4);
  const WeightedWindow weighted = weighted_readings(window, model_for(0.05), at_once());
  double sum = 0.0;
  for (std::size_t i = 40; i < window.readings.size(); ++i) {
    sum += weight_at(weighted, window, i);
  }
  CHECK(sum / static_cast<double>(window.readings.size() - 40) > 0.95);
}
