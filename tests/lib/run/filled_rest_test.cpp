#include "bothways/run/filled_rest.hpp"

#include "bothways/run/detect.hpp"
#include "lib/run/rides.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double rest_mps = 0.25;

/// A noisy phone: a reading a second.
/// @param moved_at  row at which the place jumps ahead by 3 m; none if 0
SpeedSeries phone(const std::vector<double>& v_mps, std::size_t moved_at = 0) {
  SpeedSeries series;
  series.receiver.rate_hz = 1.0;
  series.receiver.white_sd_mps = 0.3;
  series.receiver.slow_sd_mps = 0.0;
  series.rest_mps = rest_mps;
  Stretch s;
  for (std::size_t i = 0; i < v_mps.size(); ++i) {
    s.t_s.push_back(static_cast<double>(i));
    s.at_rest.push_back(v_mps[i] < rest_mps ? 1 : 0);
    s.validity.push_back(Validity::valid);
    s.sd_mps.push_back(0.3);
    s.east_m.push_back(moved_at > 0 && i >= moved_at ? 3.0 : 0.0);
    s.north_m.push_back(0.0);
    s.ele_m.push_back(0.0);
  }
  s.v_mps = s.smooth_mps = v_mps;
  series.stretches.push_back(s);
  return series;
}

}  // namespace

TEST_CASE("one wild reading at rest ends no rest, unless the place moved with it", "[run]") {
  const std::vector<double> v{0.0, 0.0, 0.0, 0.0, 1.2, 0.1, 2.5, 5.0, 8.0, 11.0, 13.0};
  const Starts starts = detect_starts(phone(v));
  REQUIRE(starts.standing.size() == 1);
  CHECK_THAT(starts.standing[0].rest_s, WithinAbs(5.0, 1e-9));
  CHECK(starts.standing[0].rest_begin == 5);  // the launch model does not see the wild one
  CHECK(starts.standing[0].moving == 6);
  CHECK_THAT(detect_starts(phone(v, 5)).standing.at(0).rest_s, WithinAbs(0.0, 1e-9));
}

TEST_CASE("a burst of noise at rest ends no rest, a roll of two feet does", "[run]") {
  const auto rest_of = [](double mps) {
    SpeedSeries series = phone({0.0, 0.0, mps, mps, mps, mps, 0.0, 0.0});
    Stretch& s = series.stretches[0];
    for (double& t_s : s.t_s) {
      t_s *= 0.1;
    }
    return filled_rest(s, 0.0);
  };
  CHECK(rest_of(0.6) == std::vector<char>{1, 1, kicked, kicked, kicked, kicked, 1, 1});
  CHECK(rest_of(1.5) == std::vector<char>{1, 1, 0, 0, 0, 0, 1, 1});
}

TEST_CASE("a slow log that reads a little at rest for seconds has stood", "[run]") {
  const Starts starts = detect_starts(
      phone({0.0, 0.0, 1.8, 1.7, 0.9, 0.32, 0.3, 0.31, 0.39, 1.7, 3.3, 5.1, 6.8, 8.4, 9.7, 10.9}));
  REQUIRE(starts.standing.size() == 1);
  CHECK_THAT(starts.standing[0].rest_s, WithinAbs(3.0, 1e-9));
  CHECK(starts.standing[0].moving == 9);
  CHECK(starts.rolling.empty());  // listed once
}

TEST_CASE("a start after a little roll that came to no stop is not passed over", "[run]") {
  const SpeedPoints before{{12.0, 0.0}, {6.0, 13.0}, {5.0, 0.0}};
  const SpeedPoints rolled{{8.0, 0.0},  {2.0, 1.9}, {1.5, 0.5}, {3.0, 0.5},
                           {6.0, 13.0}, {4.0, 0.0}, {9.0, 0.0}};
  const Runs runs = runs_of(drawn_log(SpeedPoints{{0.0, 0.0}} + before + rolled), "0-20 mph");
  CHECK(runs.accepted.size() == 1);
  REQUIRE(runs.rejected.size() == 1);
  CHECK(runs.rejected[0].code == "rolling-start");
}

TEST_CASE("in a slow log one reading alone lets nothing off, two do", "[run]") {
  const auto tops = [](double at_5_s, double at_6_s) {
    std::vector<double> tops_mps;
    for (const StandingStart& start :
         detect_starts(phone({0.0, 0.0, 0.0, 2.5, 5.0, at_5_s, at_6_s, 12.0, 14.0, 16.0, 18.0})).standing) {
      tops_mps.push_back(start.top_mps);
    }
    return tops_mps;
  };
  CHECK(tops(7.5, 10.0) == std::vector<double>{18.0});
  CHECK(tops(3.0, 10.0) == std::vector<double>{18.0});
  CHECK(tops(0.0, 10.0) == std::vector<double>{18.0});
  CHECK(tops(3.0, 3.0) == std::vector<double>{5.0});
}
