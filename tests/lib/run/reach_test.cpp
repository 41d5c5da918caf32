#include "bothways/run/reach.hpp"

#include "bothways/core/units.hpp"
#include "bothways/log/read.hpp"
#include "bothways/speed/derive.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

std::vector<double> of_fixture(const std::string& file) {
  return timed_up_to_mps(speed_series(read_log(BOTHWAYS_SOURCE_DIR "/fixtures/" + file)));
}

}  // namespace

TEST_CASE("nearly all starts reach the lower quartile of those that were not aborted", "[run]") {
  CHECK(reach_mps(std::vector<double>{}) == 0.0);
  CHECK(reach_mps(std::vector<double>{8.0}) == 8.0);
  CHECK_THAT(reach_mps(std::vector<double>{24.0, 5.0, 23.0, 24.0, 6.0, 23.5, 24.0}), WithinAbs(23.5, 1e-12));
  CHECK_THAT(reach_mps(std::vector<double>{24.0, 24.0, 24.0, 24.0, 33.0}), WithinAbs(24.0, 1e-12));
}

TEST_CASE("starts in traffic say nothing of what a vehicle reaches", "[run]") {
  // Two lights of 25 to 35 mph, a jab, an aborted start, six runs to 53 mph, one light.
  const auto up_to = of_fixture("demo/mill-lane.nmea.gz");
  CHECK(up_to.size() >= 6);
  CHECK_THAT(reach_mps(up_to), WithinAbs(52.5 * mps_per_mph, 0.5 * mps_per_mph));
}

TEST_CASE("a start held at the highest speed counts for a twelfth less", "[run]") {
  const double reach = reach_mps(of_fixture("moped/ride.nmea.gz"));
  CHECK_THAT(reach, WithinAbs(11.0 / 12.0 * 12.25, 0.15));  // the fixture holds 12.25 m/s
}

TEST_CASE("a split counts up to a little above the highest smoothed speed, and distances always", "[run]") {
  std::vector<Split> splits;
  for (const SplitSpec& spec : parse_splits("0-30 mph, 0-50 mph, 30-50 mph, 60 ft")) {
    splits.push_back({.spec = spec});
  }
  const double mark_mps = 50.0 * mps_per_mph;
  CHECK(within_reach(splits, mark_mps / 1.02 - 0.15, 0.05).size() == 4);
  CHECK(within_reach(splits, mark_mps / 1.02 - 0.25, 0.05).size() == 2);
  CHECK(within_reach(splits, 1.0, 0.05).size() == 1);
  CHECK(within_reach(splits, 1.0, 0.05).front().spec.name == "60 ft");
}

TEST_CASE("no split takes less than a tyre's 14 m/s^2 from rest would", "[run]") {
  const auto least_s = [](const char* name) { return least_time_s(parse_splits(name).front()); };
  const double foot_s = std::sqrt(2.0 * 0.3048 / 14.0);
  CHECK_THAT(least_s("0-50 km/h"), WithinAbs(50.0 / 3.6 / 14.0 - foot_s, 1e-12));
  CHECK_THAT(least_s("30-50 km/h"), WithinAbs(20.0 / 3.6 / 14.0, 1e-12));
  CHECK_THAT(least_s("100 m"), WithinAbs(std::sqrt(200.0 / 14.0) - foot_s, 1e-12));
  CHECK(least_s("0-5 km/h") < 0.0);  // within the first foot
}
