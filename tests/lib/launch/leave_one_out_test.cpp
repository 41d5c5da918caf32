#include "bothways/launch/leave_one_out.hpp"

#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <cstddef>

using namespace bothways;

TEST_CASE("a small outlier in the launch shows once the way of getting away is known", "[launch]") {
  LaunchModel model = model_for(0.03);
  model.motion.jerk_density = 0.3;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    CAPTURE(seed);
    LaunchWindow window = constant_start(3.02, 3.0, 0.03, seed);
    CHECK(without_outliers(window, model, at_once(), 6.0, 3).outliers == 0);
    window.readings[33].z += 0.6;
    const ScreenedWindow screened = without_outliers(window, model, at_once(), 6.0, 3);
    CHECK(screened.outliers == 1);
    CHECK(screened.window.readings[33].kind == Reading::Kind::excluded);
  }
}

TEST_CASE("no more outliers are excluded than asked", "[launch]") {
  LaunchWindow window = constant_start(3.0, 3.0, 0.03, 5);
  for (const std::size_t i : {45U, 50U, 55U, 60U}) {
    window.readings[i].z += 3.0;
  }
  CHECK(without_outliers(window, model_for(0.03), at_once(), 5.0, 3).outliers == 3);
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
    CHECK(without_outliers(window, model, creep, 6.0, 3).outliers == 0);
  }
}
