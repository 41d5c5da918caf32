#include "bothways/speed/rest.hpp"

#include "bothways/speed/smooth.hpp"
#include "lib/speed/stretches.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

double threshold(double standing_sd_mps, int axes, SpeedSource source = SpeedSource::reported,
                 double hold_mps = 0.0, double resolution_mps = 0.0) {
  Receiver r;
  r.standing_sd_mps = standing_sd_mps;
  r.standing_axes = axes;
  r.zero_hold_mps = hold_mps;
  r.resolution_mps = resolution_mps;
  return rest_threshold_mps(r, source);
}

SpeedSeries rested(Stretch stretch, double standing_sd_mps) {
  SpeedSeries series;
  series.receiver.standing_sd_mps = standing_sd_mps;
  series.stretches = {std::move(stretch)};
  mark_rest(series);
  return series;
}

}  // namespace

TEST_CASE("rest lies below four times the noise at rest and a step of the written speed", "[speed]") {
  CHECK_THAT(threshold(0.05, 1), WithinAbs(0.2, 1e-12));
  CHECK_THAT(threshold(0.05, 2), WithinAbs(0.2 * std::sqrt(2.0), 1e-12));
  CHECK_THAT(threshold(0.05, 1, SpeedSource::reported, 0.0, 0.1), WithinAbs(0.3, 1e-12));
}

TEST_CASE("where the receiver holds zero, rest lies below the hold or three times the noise", "[speed]") {
  CHECK_THAT(threshold(0.05, 1, SpeedSource::reported, 0.4), WithinAbs(0.4, 1e-12));
  CHECK_THAT(threshold(0.2, 1, SpeedSource::reported, 0.4), WithinAbs(0.6, 1e-12));
}

TEST_CASE("the threshold of rest stays within its bounds", "[speed]") {
  CHECK(threshold(0.001, 1) == 0.15);
  CHECK(threshold(9.0, 1) == 1.2);
  CHECK(threshold(0.001, 1, SpeedSource::reported, 0.01) == 0.1);
  CHECK(threshold(9.0, 1, SpeedSource::reported, 0.01) == 1.2);
  CHECK(threshold(0.001, 2, SpeedSource::positions) == 0.5);
  CHECK(threshold(9.0, 2, SpeedSource::positions) == 1.5);
  CHECK_THAT(threshold(0.2, 1, SpeedSource::positions), WithinAbs(0.8, 1e-12));
}

TEST_CASE("a sample just below the threshold is at rest, one just above is not", "[speed]") {
  const SpeedSeries below = rested(stretch_of(std::vector<double>(10, 0.1999)), 0.05);
  CHECK(below.rest_mps == 0.2);
  CHECK(below.stretches.front().at_rest == std::vector<char>(10, 1));
  const SpeedSeries above = rested(stretch_of(std::vector<double>(10, 0.2)), 0.05);
  CHECK(above.stretches.front().at_rest == std::vector<char>(10, 0));
}

TEST_CASE("a single sample above the threshold does not end a rest, nor does one below end a ride",
          "[speed]") {
  std::vector<double> v(10, 0.0);
  v[5] = 3.0;
  CHECK(rested(stretch_of(v), 0.05).stretches.front().at_rest == std::vector<char>(10, 1));
  v.assign(10, 3.0);
  v[5] = 0.0;
  CHECK(rested(stretch_of(v), 0.05).stretches.front().at_rest == std::vector<char>(10, 0));
}

TEST_CASE("outliers amid a rest are at rest, and amid a ride they are not", "[speed]") {
  std::vector<double> v(30, 0.0);
  for (std::size_t i = 10; i < 13; ++i) {
    v[i] = 68.6;
  }
  Stretch s = stretch_of(v);
  for (std::size_t i = 10; i < 13; ++i) {
    s.validity[i] = Validity::excursion;
  }
  CHECK(rested(s, 0.05).stretches.front().at_rest == std::vector<char>(30, 1));
  for (double& speed : s.v_mps) {
    speed = speed > 1.0 ? 0.0 : 15.0;
  }
  const Stretch ride = rested(s, 0.05).stretches.front();
  CHECK(ride.at_rest[9] == 0);
  CHECK(ride.at_rest[13] == 0);
  CHECK_THAT(ride.smooth_mps[11], WithinAbs(15.0, 1e-12));
}

TEST_CASE("the smoothed speed is the mean of five samples at 10 Hz and the sample itself at 2 Hz",
          "[speed]") {
  const std::vector<double> v{0.0, 1.0, 2.0, 4.0, 7.0, 11.0, 16.0};
  const Stretch fast = stretch_of(v);
  CHECK_THAT(smoothed(fast, fast.v_mps)[3], WithinAbs(5.0, 1e-12));
  const Stretch slow = stretch_of(v, 0.5);
  CHECK(smoothed(slow, slow.v_mps) == v);
  CHECK(median_of_three(slow) == v);  // three samples span a second
}

TEST_CASE("where no sample near is valid the smoothed speed goes on as before", "[speed]") {
  Stretch s = stretch_of(std::vector<double>(20, 10.0));
  for (std::size_t i = 5; i < 15; ++i) {
    s.validity[i] = Validity::excursion;
    s.v_mps[i] = 60.0;
  }
  const std::vector<double> v = smoothed(s, s.v_mps);
  CHECK(v == std::vector<double>(20, 10.0));
  for (std::size_t i = 0; i < 5; ++i) {
    s.validity[i] = Validity::excursion;
  }
  CHECK(smoothed(s, s.v_mps).front() == 0.0);  // nothing came before
}
