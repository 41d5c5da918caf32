#include "bothways/run/detect.hpp"

#include "bothways/core/units.hpp"
#include "lib/run/rides.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <string>

using namespace bothways;

namespace {

/// The four starts with something else between the second and the third.
sim::Truth with_between(const sim::Script& between) {
  sim::Script script = starts(2, 53.0);
  sim::append(script, between);
  sim::append(script, starts(2, 53.0));
  return sim::ride(sim::scooter(), {}, script);
}

/// The code under which the start nearest to a time is listed, within 5 s: a rolling start has no sharp
/// beginning.
std::string code_at(const Runs& runs, double t_s) {
  for (const Rejected& r : runs.rejected) {
    if (std::abs(seconds_between(ride_begin, r.time) - t_s) < 5.0) {
      CHECK_FALSE(r.text.empty());
      CHECK(std::isfinite(r.place.lat_deg));
      return r.code;
    }
  }
  return "";
}

/// All four runs are found, and nothing else is taken for one.
void check_four(const sim::Truth& truth, const Runs& runs) {
  REQUIRE(runs.accepted.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(runs.accepted[i].id == static_cast<int>(i) + 1);
    const sim::TrueStart* start = true_start_of(truth, runs.accepted[i]);
    REQUIRE(start != nullptr);
    CHECK(start->kind == sim::StartKind::run);
  }
}

double movement_of(const sim::Truth& truth, sim::StartKind kind) {
  for (const sim::TrueStart& start : truth.starts) {
    if (start.kind == kind) {
      return start.movement_s;
    }
  }
  FAIL("the ride has no such start");
  return 0.0;
}

Runs received(const sim::Truth& truth, double rate_hz = 10.0) {
  sim::ReceiverModel model;
  model.rate_hz = rate_hz;
  return runs_of(sim::receive(truth, model, 62, ride_begin));
}

}  // namespace

TEST_CASE("a full start from a roll of 5-12 mph is listed as a rolling start", "[run]") {
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    sim::Random random(seed);
    const sim::Truth truth = with_between(sim::rolling_start(52.0 * mps_per_mph, random));
    const Runs runs = received(truth);
    check_four(truth, runs);
    CHECK(code_at(runs, movement_of(truth, sim::StartKind::rolling)) == "rolling-start");
  }
}

TEST_CASE("a full start from a roll of 12.3 mph is listed as a rolling start", "[run]") {
  const double roll_mps = 12.3 * mps_per_mph;
  const sim::Truth truth =
      with_between({sim::stand(8.0), sim::gentle_start(12.0), sim::travel(40.0, 12.0, roll_mps),
                    sim::travel(10.0, roll_mps, roll_mps),
                    sim::full_start(52.0 * mps_per_mph, sim::StartKind::rolling), sim::slow_to(0.0)});
  CHECK(code_at(received(truth), movement_of(truth, sim::StartKind::rolling)) == "rolling-start");
}

TEST_CASE("a jab of throttle from a roll is listed as a rolling start", "[run]") {
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    sim::Random random(seed);
    const sim::Truth truth = with_between(sim::jab(random));
    const Runs runs = received(truth);
    check_four(truth, runs);
    INFO("seed " << seed);
    CHECK(code_at(runs, movement_of(truth, sim::StartKind::jab)) == "rolling-start");
  }
}

TEST_CASE("a full start that is let off before the first mark is listed as lifted", "[run]") {
  for (std::uint64_t seed = 1; seed <= 6; ++seed) {
    sim::Random random(seed);
    const sim::Truth truth = with_between(sim::aborted(random, 15.0, 26.0));
    const Runs runs = received(truth);
    check_four(truth, runs);
    CHECK(code_at(runs, movement_of(truth, sim::StartKind::lifted)) == "lifted");
  }
}

TEST_CASE("a traffic start is listed as gentle whether it reaches the first mark or not", "[run]") {
  for (const double to_mph : {25.0, 34.0}) {
    const double to_mps = to_mph * mps_per_mph;
    const sim::Truth truth =
        with_between({sim::stand(10.0), sim::gentle_start(to_mps), sim::travel(80.0, to_mps)});
    const Runs runs = received(truth);
    check_four(truth, runs);
    INFO("to " << to_mph << " mph");
    CHECK(code_at(runs, movement_of(truth, sim::StartKind::gentle)) == "gentle");
  }
}

TEST_CASE("a gentle start is timed on request, and then lies in its interval", "[run]") {
  const double to_mps = 36.0 * mps_per_mph;
  const sim::Truth truth =
      with_between({sim::stand(10.0), sim::gentle_start(to_mps, 0.6), sim::travel(80.0, to_mps)});
  const Runs runs = runs_of(sim::receive(truth, {}, 63, ride_begin), "0-30 mph", true);
  REQUIRE(runs.accepted.size() == 5);
  const Run& gentle = runs.accepted[2];
  const sim::TrueStart* start = true_start_of(truth, gentle);
  REQUIRE(start != nullptr);
  CHECK(start->kind == sim::StartKind::gentle);
  const double true_s =
      sim::true_split_s(truth, *start, parse_splits("0-30 mph").front(), Clock::rollout).value();
  REQUIRE(gentle.splits.size() == 1);
  CHECK(gentle.splits.front().rollout.lo95 <= true_s);
  CHECK(gentle.splits.front().rollout.hi95 >= true_s);
}

TEST_CASE("a start after half a second at rest is listed as short", "[run]") {
  const double to_mps = 40.0 * mps_per_mph;
  const sim::Truth truth =
      with_between({sim::stand(10.0), sim::gentle_start(6.0), sim::slow_to(0.0), sim::stand(0.5),
                    sim::full_start(to_mps), sim::travel(80.0, to_mps)});
  const Runs runs = received(truth);
  REQUIRE(runs.accepted.size() == 4);
  double movement_s = 0.0;
  for (const sim::TrueStart& start : truth.starts) {
    movement_s = start.kind == sim::StartKind::run && start.top_mps < 45.0 * mps_per_mph ? start.movement_s
                                                                                         : movement_s;
  }
  bool listed = false;
  for (const Rejected& r : runs.rejected) {
    listed =
        listed || (r.code == "short" && std::abs(seconds_between(ride_begin, r.time) - movement_s) < 1.0);
  }
  CHECK(listed);
}

TEST_CASE("rolling forward a little is listed as short", "[run]") {
  const sim::Truth truth = with_between({sim::stand(10.0), sim::gentle_start(4.0), sim::slow_to(0.0)});
  const Runs runs = received(truth);
  check_four(truth, runs);
  CHECK(code_at(runs, movement_of(truth, sim::StartKind::gentle)) == "short");
}

TEST_CASE("a launch that falls into a gap is listed as gap", "[run]") {
  const FourStarts& ride = four_starts();
  const double movement_s = ride.truth.starts[2].movement_s;
  const Runs runs = runs_of(without(ride.log, movement_s - 1.0, movement_s + 2.0));
  REQUIRE(runs.accepted.size() == 3);
  CHECK(code_at(runs, movement_s) == "gap");
}

TEST_CASE("a run with a gap before its first mark is listed as gap, one with a gap after it keeps that mark",
          "[run]") {
  const FourStarts& ride = four_starts();
  const sim::TrueStart& start = ride.truth.starts[2];
  const double thirty_s = sim::crossing_s(ride.truth, start, Speed::from_mph(30)).value();
  const Runs early = runs_of(without(ride.log, thirty_s - 1.0, thirty_s + 1.5));
  REQUIRE(early.accepted.size() == 3);
  CHECK(code_at(early, start.movement_s) == "gap");
  const Runs late = runs_of(without(ride.log, thirty_s + 0.6, thirty_s + 3.0));
  REQUIRE(late.accepted.size() == 4);
  REQUIRE(late.accepted[2].splits.size() == 1);
  CHECK(late.accepted[2].splits.front().spec.name == "0-30 mph");
}

TEST_CASE("a log that is cut off in the middle of a run gives the marks before the cut", "[run]") {
  const FourStarts& ride = four_starts();
  const sim::TrueStart& last = ride.truth.starts[3];
  const double forty_s = sim::crossing_s(ride.truth, last, Speed::from_mph(40)).value();
  const Runs late = runs_of(without(ride.log, forty_s + 0.8, 1e9));
  REQUIRE(late.accepted.size() == 4);
  REQUIRE(late.accepted[3].splits.size() == 2);
  CHECK(late.accepted[3].splits[1].spec.name == "0-40 mph");
  const Runs early = runs_of(without(ride.log, last.movement_s + 2.0, 1e9));
  REQUIRE(early.accepted.size() == 3);
  CHECK(code_at(early, last.movement_s) == "gap");
}

TEST_CASE("a gear change is no lift", "[run]") {
  const sim::Vehicle vehicle = sim::geared_motorcycle(0.4);
  const sim::Truth truth = sim::ride(vehicle, {}, starts(4, 53.0, vehicle));
  const Runs runs = received(truth);
  check_four(truth, runs);
  for (const Run& run : runs.accepted) {
    CHECK(split_named(run, "0-50 mph") != nullptr);
  }
}

TEST_CASE("five fixes a second find the same runs", "[run]") {
  sim::Random random(9);
  sim::Script between = sim::jab(random);
  sim::append(between, sim::aborted(random, 15.0, 20.0));
  const sim::Truth truth = with_between(between);
  check_four(truth, received(truth, 5.0));
  check_four(truth, received(truth, 25.0));
}

TEST_CASE("a start after a silence in a log by distance stays where a row beside it has no place", "[run]") {
  SpeedSeries series;
  series.moved_only = true;
  series.rest_mps = 0.5;
  for (const bool sets_off : {false, true}) {
    Stretch s;
    s.start = shifted(ride_begin, sets_off ? 30.0 : 0.0);
    for (int i = 0; i < 11; ++i) {
      s.t_s.push_back(i);
      s.v_mps.push_back(sets_off ? 3.0 + i : 10.0 - i);
      s.sd_mps.push_back(0.1);
      s.east_m.push_back(sets_off ? 52.0 + 3.0 * i + 0.5 * i * i : 10.0 * i - 0.5 * i * i);
      s.north_m.push_back(0.0);
      s.ele_m.push_back(unknown);
      s.validity.push_back(Validity::valid);
      s.at_rest.push_back(s.v_mps.back() < series.rest_mps ? 1 : 0);
    }
    s.smooth_mps = s.v_mps;
    series.stretches.push_back(s);
  }
  CHECK(detect_starts(series).hidden.size() == 1);
  SpeedSeries without = series;
  without.stretches[0].east_m.back() = unknown;
  CHECK(detect_starts(without).hidden.size() == 1);
  without = series;
  without.stretches[1].east_m.front() = unknown;
  CHECK(detect_starts(without).hidden.size() == 1);
}
