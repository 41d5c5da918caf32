#include "lib/run/rides.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// The same splits to within some share of their own sds (0: the same bits). First movement hangs on what is
/// known of the noise at rest, which a cut log knows less of: three times that share; how sure they are on
/// the noise that the whole log shows.
void check_same_splits(const Runs& a, const Runs& b, double sds) {
  REQUIRE(a.accepted.size() == b.accepted.size());
  for (std::size_t i = 0; i < a.accepted.size(); ++i) {
    REQUIRE(a.accepted[i].splits.size() == b.accepted[i].splits.size());
    for (std::size_t k = 0; k < a.accepted[i].splits.size(); ++k) {
      const Split& s = a.accepted[i].splits[k];
      const Split& t = b.accepted[i].splits[k];
      INFO("run " << i + 1 << ", " << s.spec.name << ": " << s.rollout.value << " sd " << s.rollout.sd << ", "
                  << t.rollout.value << " sd " << t.rollout.sd);
      CHECK(s.spec.name == t.spec.name);
      CHECK(std::abs(s.rollout.value - t.rollout.value) <= sds * s.rollout.sd);
      CHECK(std::abs(s.movement.value - t.movement.value) <= 3.0 * sds * s.movement.sd);
      CHECK(std::abs(s.rollout.sd - t.rollout.sd) <= sds * s.rollout.sd);
    }
  }
}

}  // namespace

TEST_CASE("the same log gives the same runs, bit by bit", "[run]") {
  check_same_splits(runs_of(four_starts().log), runs_of(four_starts().log), 0.0);
}

TEST_CASE("a shift of all times by days changes nothing but the times", "[run]") {
  const Runs here = runs_of(four_starts().log);
  for (const std::int64_t days : {3, -400, 4000}) {
    const std::int64_t shift_us = days * 86'400'000'000;
    Log log = four_starts().log;
    for (Fix& fix : log.fixes) {
      fix.time.unix_us += shift_us;
    }
    const Runs there = runs_of(log);
    check_same_splits(here, there, 0.0);
    for (std::size_t i = 0; i < here.accepted.size(); ++i) {
      CHECK(there.accepted[i].movement.unix_us == here.accepted[i].movement.unix_us + shift_us);
      CHECK(there.accepted[i].clock_start.unix_us == here.accepted[i].clock_start.unix_us + shift_us);
    }
  }
}

TEST_CASE("a log cut where nobody rides gives the same runs", "[run]") {
  // Not the same bits: the noise is estimated from what is left.
  const FourStarts& ride = four_starts();
  const Runs whole = runs_of(ride.log);
  const double second_s = ride.truth.starts[1].movement_s;
  check_same_splits(whole, runs_of(without(ride.log, -1.0, 4.0)), 0.5);  // the head
  check_same_splits(whole, runs_of(without(ride.log, second_s - 11.5, second_s - 7.0)),
                    0.5);  // a stop's middle
  check_same_splits(whole, runs_of(without(ride.log, ride.truth.duration_s() - 2.0, 1e9)), 0.5);  // the tail
}

TEST_CASE("without positions the splits stay where they were", "[run]") {
  Log log = four_starts().log;
  for (Fix& fix : log.fixes) {
    fix.lat_deg = fix.lon_deg = unknown;
  }
  const Runs bare = runs_of(log);
  check_same_splits(runs_of(four_starts().log), bare, 0.8);
  CHECK(std::isnan(bare.accepted.front().start.lat_deg));
}

TEST_CASE("a ride turned round has the same times and the opposite headings", "[run]") {
  const Runs one = runs_of(four_starts().log);
  Log log = four_starts().log;
  // Turned by half a circle about its middle in latitude and longitude: metres stay metres to 1 in 10^5.
  const double lat_deg = log.fixes.front().lat_deg;
  const double lon_deg = log.fixes.front().lon_deg;
  for (Fix& fix : log.fixes) {
    fix.lat_deg = 2.0 * lat_deg - fix.lat_deg;
    fix.lon_deg = 2.0 * lon_deg - fix.lon_deg;
    fix.course_deg = std::fmod(fix.course_deg + 180.0, 360.0);
  }
  const Runs other = runs_of(log);
  check_same_splits(one, other, 0.01);
  for (std::size_t i = 0; i < one.accepted.size(); ++i) {
    const double turned = one.accepted[i].heading_deg - other.accepted[i].heading_deg;
    CHECK_THAT(std::abs(std::remainder(turned, 360.0)), WithinAbs(180.0, 0.1));
  }
}

TEST_CASE("a further gentle start in the log does not change what the others are", "[run]") {
  sim::Script script = starts(4, 53.0);
  sim::append(script, {sim::stand(10.0), sim::gentle_start(13.0), sim::travel(60.0, 13.0)});
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script);
  const Runs runs = runs_of(sim::receive(truth, {}, 61, ride_begin));
  CHECK(runs.accepted.size() == 4);
}

TEST_CASE("marks asked beside it do not move the time of a run", "[run]") {
  // Launches alike to 9 m/s; what the road does from there on is no part of them.
  SpeedPoints points{{0.0, 0.0}};
  for (const double upper_mps2 : {2.2, 1.4, 2.1, 1.5}) {
    points =
        points +
        SpeedPoints{{9.0, 0.0}, {0.4, 0.6}, {8.4 / 2.8, 9.0}, {(14.5 - 9.0) / upper_mps2, 14.5}, {8.0, 0.0}};
  }
  const Log log = drawn_log(points);
  const Runs alone = runs_of(log, "0-30 mph");
  REQUIRE(alone.accepted.size() == 4);
  for (const char* beside : {"0-10 mph", "0-15 mph", "0-20 mph", "60 ft"}) {
    CAPTURE(beside);
    Runs both = runs_of(log, std::string("0-30 mph, ") + beside);
    REQUIRE(both.accepted.size() == 4);
    for (Run& run : both.accepted) {
      REQUIRE(run.splits.size() == 2);
      run.splits.resize(1, Split{.spec = run.splits.front().spec});
    }
    check_same_splits(alone, both, 0.0);
    CHECK(alone.notes.size() == both.notes.size());
  }
}
