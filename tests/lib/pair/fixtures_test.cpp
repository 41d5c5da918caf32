#include "bothways/log/read.hpp"
#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/run/ride.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace bothways;

namespace {

Side ridden(const std::string& name, const std::string& file, int first_id) {
  Side side{.name = name, .rides = {analyse(read_log(std::string(BOTHWAYS_SOURCE_DIR "/fixtures/") + file))}};
  for (Run& run : side.rides.front().runs.accepted) {
    run.id = first_id++;
  }
  side.pairs = pair_runs(side.rides);
  return side;
}

}  // namespace

TEST_CASE("from logs to words: the change of the fixture is told where it is, and not where it is not",
          "[pair]") {
  // Simulated: -0.185 s at 0-30, -0.187 s at 0-40 and 0-50, nothing at 30-50 mph
  // (fixtures/before-after/case.txt).
  const std::vector<Side> sides{ridden("before", "before-after/before/ride.nmea.gz", 1),
                                ridden("after", "before-after/after/ride.nmea.gz", 101)};
  const auto comparison = compare(sides, parse_splits("0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph")).front();
  REQUIRE(comparison.differences.size() == 4);
  const std::vector<double> truth_s{-0.1849, -0.1869, -0.1869, -0.0020};
  for (std::size_t k = 0; k < 4; ++k) {
    const Difference& row = comparison.differences[k];
    INFO(row.text);
    CHECK(row.pairs_before == 3);
    CHECK(row.pairs_after == 3);
    CHECK(row.difference.lo95 <= truth_s[k]);
    CHECK(row.difference.hi95 >= truth_s[k]);
  }
  CHECK(comparison.differences[0].verdict == Verdict::quicker);
  CHECK(comparison.differences[3].verdict == Verdict::cannot_tell);
  // Ridden a week apart.
  REQUIRE(comparison.warnings.size() == 1);
  CHECK(comparison.warnings.front().code == "other-days");
}

TEST_CASE("on a slope of 2 % the overall interval holds the flat time, and the plain mean is too long",
          "[pair]") {
  const Side side = ridden("slope", "slope-2-percent/ride.gpx.gz", 1);
  const auto rows = overall(side.rides, side.pairs, parse_splits("0-30 mph, 0-50 mph"));
  REQUIRE(rows.size() == 2);
  // Two-way truth of the level road from fixtures/slope-2-percent/case.txt.
  CHECK(rows[0].rollout.lo95 <= 4.2487);
  CHECK(rows[0].rollout.hi95 >= 4.2487);
  CHECK(rows[1].rollout.lo95 <= 9.7104);
  CHECK(rows[1].rollout.hi95 >= 9.7104);
  double plain_s = 0.0;
  for (const Pair& pair : side.pairs.made) {
    plain_s += pair.splits.at(2).plain_mean_s / static_cast<double>(side.pairs.made.size());
  }
  CHECK(plain_s > rows[1].as_ridden_s + 0.05);
}
