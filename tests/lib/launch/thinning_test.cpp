#include "bothways/launch/thinning.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// Readings of a speed of 2 m/s^2 from 3 s on, at a rate.
LaunchWindow window_at(double rate_hz, std::size_t readings) {
  LaunchWindow window;
  for (std::size_t i = 0; i < readings; ++i) {
    Reading reading;
    reading.t_s = static_cast<double>(i) / rate_hz;
    reading.z = reading.t_s > 3.0 ? 2.0 * (reading.t_s - 3.0) : 0.0;
    reading.variance = 0.04;
    window.readings.push_back(reading);
  }
  window.range = {2.0, 3.5, 4.0};
  return window;
}

}  // namespace

TEST_CASE("late readings of a fast log are averaged to about ten a second, its launch and its end stay",
          "[launch]") {
  const LaunchWindow whole = window_at(25.0, 200);
  const LaunchWindow window = thinned(whole);
  std::size_t at = 0;
  for (const Reading& reading : window.readings) {
    CHECK_THAT(reading.z, WithinAbs(reading.t_s > 3.0 ? 2.0 * (reading.t_s - 3.0) : 0.0, 1e-12));
    if (reading.t_s <= 4.5) {
      CHECK(reading.t_s == whole.readings[at++].t_s);
      CHECK(reading.variance == 0.04);
    }
  }
  CHECK(at == 113);  // all up to a second after the first surely moving one
  CHECK(window.readings.back().t_s == whole.readings.back().t_s);
  CHECK(window.readings.size() == 113 + 43 + 1);
  CHECK_THAT(window.readings[130].variance, WithinAbs(0.02, 1e-15));
  CHECK_THAT(window.readings[131].t_s - window.readings[130].t_s, WithinAbs(0.08, 1e-12));
}

TEST_CASE("late readings that are ten a second, or excluded, stay as they are", "[launch]") {
  CHECK(thinned(window_at(10.0, 80)).readings.size() == 80);
  LaunchWindow mixed = window_at(25.0, 200);
  for (std::size_t i = 0; i < 200; i += 2) {
    mixed.readings[i].kind = Reading::Kind::excluded;
  }
  CHECK(thinned(mixed).readings.size() == 200);
}

TEST_CASE("readings of unlike noise are averaged by their precision", "[launch]") {
  LaunchWindow window = window_at(25.0, 200);
  window.readings[150].variance = 0.12;
  window.readings[150].z += 1.0;
  window.readings[151].variance = 0.04;
  double worst = 0.0;
  for (const Reading& reading : thinned(window).readings) {
    worst = std::max(worst, std::abs(reading.z - 2.0 * std::max(0.0, reading.t_s - 3.0)));
  }
  CHECK_THAT(worst, WithinAbs(0.25, 1e-9));  // a quarter of the say of two
}
