#include "bothways/log/read.hpp"
#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/run/ride.hpp"

#include <catch2/catch.hpp>

#include <string>
#include <vector>

using namespace bothways;

namespace {

Side side_of_fixture(const std::string& name, const std::string& file, int first_id) {
  Side side{.name = name, .rides = {analyse(read_log(std::string(BOTHWAYS_SOURCE_DIR "/fixtures/") + file))}};
  for (Run& run : side.rides.front().runs.accepted) {
    run.id = first_id++;
  }
  side.pairs = pair_runs(side.rides);
  return side;
}

void check_same(const Estimate& a, const Estimate& b) {
  CHECK(a.value == b.value);
  CHECK(a.sd == b.sd);
  CHECK(a.lo95 == b.lo95);
  CHECK(a.hi95 == b.hi95);
}

void check_same(const Budget& a, const Budget& b) {
  const auto rows = budget_rows(a);
  const auto other = budget_rows(b);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CAPTURE(rows[i].code);
    CHECK(rows[i].sd_s == other[i].sd_s);
  }
}

}  // namespace

TEST_CASE("from logs to words: the change of the fixture is told where it is, and not where it is not",
          "[pair]") {
  // Simulated: -0.185 s at 0-30, -0.187 s at 0-40 and 0-50, nothing at 30-50 mph
  // (fixtures/before-after/case.txt).
  const std::vector<Side> sides{side_of_fixture("before", "before-after/before/ride.nmea.gz", 1),
                                side_of_fixture("after", "before-after/after/ride.nmea.gz", 101)};
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
  const Side side = side_of_fixture("slope", "slope-2-percent/ride.gpx.gz", 1);
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

TEST_CASE("pairs and overall lines of one model are to the bit those of pairing and then averaging",
          "[pair]") {
  const Side side = side_of_fixture("before", "before-after/before/ride.nmea.gz", 1);
  const auto splits = parse_splits("30-50 mph, 0-30 mph, 0-90 mph");
  const auto rows = overall(side.rides, side.pairs, splits);
  const Averaged both = average_runs(side.rides, splits);
  REQUIRE(rows.size() == 2);
  REQUIRE(both.overall.size() == 2);
  REQUIRE(both.pairs.made.size() == side.pairs.made.size());
  for (std::size_t i = 0; i < rows.size(); ++i) {
    CHECK(both.overall[i].spec.name == rows[i].spec.name);
    check_same(both.overall[i].rollout, rows[i].rollout);
    check_same(both.overall[i].movement, rows[i].movement);
    check_same(both.overall[i].budget, rows[i].budget);
    check_same(both.overall[i].budget_movement, rows[i].budget_movement);
    CHECK(both.overall[i].as_ridden_movement_s == rows[i].as_ridden_movement_s);
    CHECK(both.overall[i].scatter_s == rows[i].scatter_s);
  }
  // By one clock alone it is what both together say of it; the other is left out.
  for (const Clock clock : {Clock::rollout, Clock::movement}) {
    const bool rollout = clock == Clock::rollout;
    const Averaged one = average_runs(side.rides, splits, {}, {.only = clock});
    for (std::size_t i = 0; i < rows.size(); ++i) {
      check_same(rollout ? one.overall[i].rollout : one.overall[i].movement,
                 rollout ? rows[i].rollout : rows[i].movement);
      CHECK(one.overall[i].pairs == rows[i].pairs);
    }
    CHECK((rollout ? one.overall[1].movement : one.overall[1].rollout).value == 0.0);
    for (std::size_t k = 0; k < side.pairs.made.size(); ++k) {
      for (std::size_t i = 0; i < side.pairs.made[k].splits.size(); ++i) {
        const TwoWay& of_one = one.pairs.made[k].splits[i];
        const TwoWay& of_both = side.pairs.made[k].splits[i];
        check_same(rollout ? of_one.rollout : of_one.movement, rollout ? of_both.rollout : of_both.movement);
      }
    }
  }
  const Averaged no_pair = average_runs(side.rides, splits, {}, {.each_pair = false});
  check_same(no_pair.overall[1].rollout, rows[1].rollout);
  const TwoWay& alone = no_pair.pairs.made[0].splits[0];
  REQUIRE(alone.wind_s > 0.0);
  CHECK(alone.rollout.value == alone.as_ridden.value - alone.wind_s);
  CHECK(no_pair.pairs.made[0].splits[0].rollout.hi95 < side.pairs.made[0].splits[0].rollout.hi95);
  // Pairs that are known, averaged again, are the same pairs.
  const Averaged again = average_pairs(side.rides, side.pairs, splits);
  check_same(again.overall[1].rollout, rows[1].rollout);
  check_same(again.pairs.made[1].splits[0].rollout, side.pairs.made[1].splits[0].rollout);
}

TEST_CASE("a comparison without the times of its sides has the same differences and words", "[pair]") {
  const std::vector<Side> sides{side_of_fixture("before", "before-after/before/ride.nmea.gz", 1),
                                side_of_fixture("after", "before-after/after/ride.nmea.gz", 101)};
  const auto splits = parse_splits("0-30 mph, 30-50 mph");
  const auto all = compare(sides, splits, {.more = More::none}).front().differences;
  const auto bare = compare(sides, splits, {.more = More::none, .times = false}).front().differences;
  for (std::size_t i = 0; i < all.size(); ++i) {
    check_same(bare[i].difference, all[i].difference);
    check_same(bare[i].budget, all[i].budget);
    CHECK(bare[i].p_value == all[i].p_value);
    CHECK(bare[i].text == all[i].text);
    CHECK(bare[i].before.value == 0.0);
    CHECK(all[i].before.value > 4.0);
  }
}
