#include "bothways/launch/model.hpp"
#include "bothways/launch/standing.hpp"
#include "lib/launch/starts.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways;

namespace {

LaunchWindow window_of(const Start& start) {
  LaunchWindow window;
  window.readings = start.readings;
  window.range = start.range;
  return window;
}

}  // namespace

TEST_CASE("a small spike in the launch shows once the way of getting away is known", "[run]") {
  LaunchModel model = model_for(0.03);
  model.motion.jerk_density = 0.3;
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    CAPTURE(seed);
    Start start = constant_start(3.02, 3.0, 0.03, seed);
    LaunchWindow clean = window_of(start);
    CHECK(drop_wild_readings(clean, model, 6.0, 3) == 0);
    start.readings[33].z += 0.6;
    LaunchWindow window = window_of(start);
    CHECK(drop_wild_readings(window, model, 6.0, 3) == 1);
    CHECK(window.readings[33].kind == Reading::Kind::none);
  }
}

TEST_CASE("no more wild readings are taken out than asked", "[run]") {
  Start start = constant_start(3.0, 3.0, 0.03, 5);
  for (const std::size_t i : {45U, 50U, 55U, 60U}) {
    start.readings[i].z += 3.0;
  }
  LaunchWindow window = window_of(start);
  CHECK(drop_wild_readings(window, model_for(0.03), 5.0, 3) == 3);
}

TEST_CASE("a launch that creeps loses no reading where its shape is known", "[run]") {
  LaunchModel model = model_for(0.02);
  model.motion.jerk_density = 0.5;
  model.shape.a_mps2.assign(10, 0.3);  // 0.45 s
  model.shape.a_mps2.push_back(3.0);
  model.shape.sd_mps2 = 0.45;
  for (std::uint64_t seed = 1; seed <= 20; ++seed) {
    CAPTURE(seed);
    Start start = constant_start(3.0, 0.0, 0.02, seed);
    for (Reading& reading : start.readings) {
      const double t = reading.t_s - 3.0;
      const double v_mps = t < 0.0 ? 0.0 : t < 0.45 ? 0.3 * t : 0.135 + 3.0 * (t - 0.45);
      reading.z = std::abs(v_mps + (reading.z - 0.02));  // the noise about its mean, nearly
    }
    start.range = {2.3, 3.6, 4.1};
    read_at_rest(start.readings, model, start.range);
    LaunchWindow window = window_of(start);
    CHECK(drop_wild_readings(window, model, 6.0, 3) == 0);
  }
}
