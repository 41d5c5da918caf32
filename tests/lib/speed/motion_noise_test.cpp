#include "bothways/speed/motion_noise.hpp"

#include "bothways/speed/derive.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Errors of the speed in motion; at rest it has 0.02 m/s of white noise, as drawn_log() makes it.
struct MotionErrors {
  double white_sd = 0.0;
  double slow_sd = 0.0;  ///< correlation time 2.5 s
  double lag_s = 0.0;    ///< the speed shows what was so long ago
  double cruise_s = 5.0;
  bool cruise_is_quiet = false;  ///< no white noise while cruising but that at rest
};

/// Ten rides due north, each to 18 m/s and back at 1.5 m/s^2, with 10 s at rest between them; exact
/// positions.
Log ride(const MotionErrors& errors) {
  SpeedPoints points{{0.0, 0.0}, {10.0, 0.0}};
  for (int i = 0; i < 10; ++i) {
    points = points + SpeedPoints{{12.0, 18.0}, {errors.cruise_s, 18.0}, {12.0, 0.0}, {10.0, 0.0}};
  }
  Log log = drawn_log(points);
  sim::Random random(41);
  sim::SlowNoise slow(1.0, 2.5, random);
  double travel_m = 0.0;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const double t_s = 0.1 * static_cast<double>(i);
    travel_m += i > 0 ? 0.05 * (speed_at(points, t_s - 0.1) + speed_at(points, t_s)) : 0.0;
    const double e = errors.slow_sd * slow.step(0.1, random);
    Fix& fix = log.fixes[i];
    fix.lat_deg = 46.0 + travel_m / 111'148.0;  // metres in a degree there
    fix.lon_deg = 8.0;
    if (speed_at(points, t_s) > 1.0) {
      const bool cruises = speed_at(points, t_s - 0.05) == speed_at(points, t_s + 0.05);
      fix.speed_mps += speed_at(points, std::max(0.0, t_s - errors.lag_s)) - speed_at(points, t_s) + e +
                       (cruises && errors.cruise_is_quiet ? 0.0 : errors.white_sd) * random.normal();
    }
  }
  return log;
}

double slow_noise(const MotionErrors& errors) {
  return slow_noise_in_motion(speed_series(ride(errors)).stretches, 10.0, std::hypot(0.02, errors.white_sd),
                              0.15);
}

}  // namespace

TEST_CASE("white noise of speeds in motion is found within 15 %, however quiet they are at rest", "[speed]") {
  for (const double sd : {0.05, 0.12, 0.25}) {
    const SpeedSeries series = speed_series(ride({.white_sd = sd}));
    CHECK_THAT(white_noise_in_motion(series.stretches, 10.0), WithinRel(std::hypot(0.02, sd), 0.15));
    CHECK_THAT(series.receiver.white_sd_mps, WithinRel(std::hypot(0.02, sd), 0.15));
    CHECK(series.receiver.standing_sd_mps < 0.03);
  }
}

TEST_CASE("noise that comes with acceleration counts, however long the vehicle cruises quietly", "[speed]") {
  const SpeedSeries series =
      speed_series(ride({.white_sd = 0.15, .cruise_s = 60.0, .cruise_is_quiet = true}));
  CHECK_THAT(series.receiver.white_sd_mps, WithinRel(std::hypot(0.02, 0.15), 0.2));
}

TEST_CASE("slow noise of speeds in motion is what they differ by from the positions", "[speed]") {
  CHECK_THAT(slow_noise({.slow_sd = 0.15}), WithinAbs(0.14, 0.035));  // its mean over a second
  CHECK_THAT(slow_noise({.slow_sd = 0.3}), WithinAbs(0.28, 0.07));
  CHECK(slow_noise({}) < 0.02);
  CHECK(slow_noise({.white_sd = 0.1}) < 0.04);
  const Receiver receiver = speed_series(ride({.slow_sd = 0.2})).receiver;
  CHECK_THAT(receiver.slow_sd_mps, WithinAbs(0.19, 0.05));
}

TEST_CASE("a lag of the speeds is no slow noise", "[speed]") {
  CHECK(slow_noise({.lag_s = 0.3}) < 0.05);
}

TEST_CASE("without positions, or with little riding, noise in motion is not told", "[speed]") {
  Log log = ride({.white_sd = 0.1, .slow_sd = 0.2});
  log.fixes.resize(140);
  CHECK(white_noise_in_motion(speed_series(log).stretches, 10.0) == 0.0);
  log = ride({.slow_sd = 0.2});
  for (Fix& fix : log.fixes) {
    fix.lat_deg = fix.lon_deg = unknown;
  }
  CHECK(slow_noise_in_motion(speed_series(log).stretches, 10.0, 0.02, 0.15) == 0.0);
}
