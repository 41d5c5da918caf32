#include "bothways/run/find.hpp"

#include "bothways/core/units.hpp"
#include "lib/run/rides.hpp"
#include "support/notes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("a run that reaches 40 but not 50 mph gives its splits to 40 mph", "[run]") {
  sim::Script script = starts(2, 53.0);
  sim::append(script, starts(1, 44.0));
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script);
  const Runs runs = runs_of(sim::receive(truth, {}, 64, ride_begin));
  REQUIRE(runs.accepted.size() == 3);
  CHECK(runs.accepted[0].splits.size() == 4);
  const Run& short_one = runs.accepted[2];
  REQUIRE(short_one.splits.size() == 2);
  CHECK(short_one.splits[0].spec.name == "0-30 mph");
  CHECK(short_one.splits[1].spec.name == "0-40 mph");
  CHECK_THAT(short_one.top_speed_mps, WithinAbs(44.0 * mps_per_mph, 0.4));
}

TEST_CASE("splits of speed, of distance and from a roll are as near the truth as their sd says", "[run]") {
  const FourStarts& ride = four_starts();
  const std::string asked = "0-30 mph, 0-50 mph, 30-50 mph, 20-40 km/h, 60 ft, 100 m, 50-100 m";
  const Runs runs = runs_of(ride.log, asked);
  REQUIRE(runs.accepted.size() == 4);
  for (const Run& run : runs.accepted) {
    const sim::TrueStart* start = true_start_of(ride.truth, run);
    REQUIRE(start != nullptr);
    const auto specs = parse_splits(asked);
    REQUIRE(run.splits.size() == specs.size());
    for (std::size_t i = 0; i < specs.size(); ++i) {
      const Split& split = run.splits[i];
      CHECK(split.spec.name == specs[i].name);
      CHECK(split.spec.from_rest() == specs[i].from_rest());
      for (const Clock clock : {Clock::rollout, Clock::movement}) {
        const Estimate& found = clock == Clock::rollout ? split.rollout : split.movement;
        const double true_s = sim::true_split_s(ride.truth, *start, specs[i], clock).value();
        INFO(split.spec.name << " " << to_string(clock) << ": true " << true_s << ", found " << found.value
                             << " sd " << found.sd);
        CHECK(std::abs(found.value - true_s) < 3.5 * found.sd);
        CHECK(found.sd > 0.0);
        CHECK(found.lo95 < found.value);
        CHECK(found.hi95 > found.value);
      }
      if (!split.spec.from_rest()) {
        CHECK(split.rollout.value == split.movement.value);
      }
    }
  }
}

TEST_CASE("0-30 and 30-50 mph add up to 0-50 mph", "[run]") {
  for (const Run& run : runs_of(four_starts().log).accepted) {
    const double sum =
        split_named(run, "0-30 mph")->rollout.value + split_named(run, "30-50 mph")->rollout.value;
    CHECK_THAT(sum, WithinAbs(split_named(run, "0-50 mph")->rollout.value, 1e-6));
  }
}

TEST_CASE("only rolling splits asked need no mark from rest", "[run]") {
  const Runs runs = runs_of(four_starts().log, "30-50 mph");
  REQUIRE(runs.accepted.size() == 4);
  CHECK(runs.accepted[0].splits.front().spec.name == "30-50 mph");
}

TEST_CASE("the first mark asked decides what counts", "[run]") {
  sim::Script script = starts(2, 53.0);
  sim::append(script, starts(1, 26.0));
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script);
  const Log log = sim::receive(truth, {}, 65, ride_begin);
  CHECK(runs_of(log, "0-30 mph").accepted.size() == 2);
  CHECK(runs_of(log, "0-20 mph, 0-30 mph").accepted.size() == 3);
  CHECK(runs_of(log, "60 ft, 0-30 mph").accepted.size() == 3);
}

TEST_CASE("edges rise in speed, time and travel, and hold the marks of the splits", "[run]") {
  for (const Run& run : runs_of(four_starts().log).accepted) {
    REQUIRE(run.edges.size() > 15);
    CHECK(run.edges.front().t_s == 0.0);
    CHECK(run.edges.front().s_m == rollout_m);
    for (std::size_t i = 1; i < run.edges.size(); ++i) {
      CHECK(run.edges[i].v_mps > run.edges[i - 1].v_mps);
      CHECK(run.edges[i].t_s > run.edges[i - 1].t_s);
      CHECK(run.edges[i].s_m > run.edges[i - 1].s_m);
      CHECK(run.edges[i].sd_s > 0.0);
    }
    for (const double mph : {30.0, 40.0, 50.0}) {
      const auto* split = split_named(run, "0-" + std::to_string(static_cast<int>(mph)) + " mph");
      REQUIRE(split != nullptr);
      bool there = false;
      for (const SpeedEdge& edge : run.edges) {
        there = there || (std::abs(edge.v_mps - mph * mps_per_mph) < 1e-9 &&
                          std::abs(edge.t_s - split->rollout.value) < 1e-6);
      }
      CHECK(there);
    }
  }
}

TEST_CASE("the curve of a run has the truth within a few of its sds", "[run]") {
  const FourStarts& ride = four_starts();
  const Runs runs = runs_of(ride.log);
  const Run& run = runs.accepted.front();
  sim::TruthReader truth(ride.truth);
  const double clock_s = seconds_between(ride_begin, run.clock_start);
  REQUIRE(run.curve.t_s.size() > 100);
  for (std::size_t i = 0; i < run.curve.t_s.size(); ++i) {
    if (run.curve.t_s[i] > 0.5) {
      const double true_mps = truth.at(clock_s + run.curve.t_s[i]).v_mps;
      CHECK(std::abs(run.curve.v_mps[i] - true_mps) < 4.5 * run.curve.sd_mps[i]);
    }
  }
}

TEST_CASE("place, heading, length and top speed of a run are those of the ride", "[run]") {
  const FourStarts& ride = four_starts();
  for (const Run& run : runs_of(ride.log).accepted) {
    const sim::TrueStart* start = true_start_of(ride.truth, run);
    REQUIRE(start != nullptr);
    CHECK(std::abs(std::remainder(run.heading_deg - start->heading_deg, 360.0)) < 1.5);
    CHECK_THAT(run.top_speed_mps, WithinAbs(start->top_mps, 0.3));
    const LocalPlane plane(run.start);
    const PlanePoint end = plane.to_plane(run.end);
    CHECK_THAT(std::hypot(end.east_m, end.north_m), WithinAbs(run.length_m, 5.0));  // drift of the positions
    CHECK_THAT(seconds_between(ride_begin, run.clock_start), WithinAbs(start->foot_s, 4.0 * run.clock_sd_s));
    CHECK_THAT(seconds_between(ride_begin, run.movement),
               WithinAbs(start->movement_s, 4.0 * run.movement_sd_s));
  }
}

TEST_CASE("a wild reading in a run moves no split", "[run]") {
  const FourStarts& ride = four_starts();
  const Runs clean = runs_of(ride.log);
  Log log = ride.log;
  const double thirty_s = sim::crossing_s(ride.truth, ride.truth.starts[1], Speed::from_mph(30)).value();
  for (Fix& fix : log.fixes) {
    const double off_s = seconds_between(ride_begin, fix.time) - thirty_s;
    fix.speed_mps += off_s > 0.0 && off_s < 0.1 ? 1.0 : 0.0;  // too small to be impossible
  }
  const Runs spoilt = runs_of(log);
  REQUIRE(spoilt.notes.size() == 1);
  CHECK(spoilt.notes.front().code == "wild-readings");
  for (std::size_t i = 0; i < 4; ++i) {
    const Estimate& a = split_named(clean.accepted[i], "0-30 mph")->rollout;
    const Estimate& b = split_named(spoilt.accepted[i], "0-30 mph")->rollout;
    CHECK(std::abs(a.value - b.value) < 0.5 * a.sd);
  }
}

TEST_CASE("a log without noise has no wild readings", "[run]") {
  sim::ReceiverModel model;
  model.rate_hz = 50.0;
  model.white_sd_mps = 0.0005;
  model.slow_sd_mps = 0.0;
  const sim::Vehicle vehicle = sim::geared_motorcycle(0.3);
  const sim::Truth truth = sim::ride(vehicle, {}, starts(4, 53.0, vehicle));
  const Runs runs = runs_of(sim::receive(truth, model, 65, ride_begin));
  CHECK(runs.accepted.size() == 4);
  CHECK_FALSE(has_note(runs.notes, "wild-readings"));
}

TEST_CASE("readings of a jam at rest cost no run; a start under them is left out as hidden", "[run]") {
  const FourStarts& ride = four_starts();
  const double foot_s = ride.truth.starts.at(1).foot_s;
  const auto jammed = [&](double from_s, double to_s) {
    Log log = ride.log;
    for (Fix& fix : log.fixes) {
      const double t_s = seconds_between(ride_begin, fix.time) - foot_s;
      fix.speed_mps = from_s < t_s && t_s < to_s ? 68.6 : fix.speed_mps;
    }
    return runs_of(log);
  };
  CHECK(jammed(-4.0, -1.5).accepted.size() == 4);
  const Runs hidden = jammed(-1.5, 1.0);
  CHECK(hidden.accepted.size() == 3);
  CHECK(std::any_of(hidden.rejected.begin(), hidden.rejected.end(), [](const Rejected& r) {
    return r.code == "gap" && r.text.find("impossible readings") != std::string::npos;
  }));
}

TEST_CASE("no split asked is a mistake of the caller", "[run]") {
  CHECK_THROWS_AS(find_runs(speed_series(four_starts().log), {.splits = {}}), std::invalid_argument);
}

TEST_CASE("a series without a stretch, or without a start, has no runs", "[run]") {
  CHECK(find_runs({}).accepted.empty());
  const sim::Truth truth = sim::ride(sim::scooter(), {}, {sim::stand(60.0)});
  const Runs runs = runs_of(sim::receive(truth, {}, 66, ride_begin));
  CHECK(runs.accepted.empty());
  CHECK(runs.rejected.empty());
}

TEST_CASE("a start that no tyre could make is left out, and the others are not", "[run]") {
  sim::Script script = starts(5, 40.0);
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script);
  sim::ReceiverModel phone;
  phone.rate_hz = 1.0;
  Log log = sim::receive(truth, phone, 65, ride_begin);
  const auto moving =
      std::find_if(log.fixes.begin(), log.fixes.end(), [](const Fix& fix) { return fix.speed_mps > 1.5; });
  REQUIRE(moving != log.fixes.end());
  for (std::ptrdiff_t i = 0; i < 12; ++i) {  // 13.5 m/s within a second of the last reading at rest
    moving[i].speed_mps = 13.5 + 0.5 * static_cast<double>(i);
  }
  const Runs runs = runs_of(log, "0-20 mph");
  CHECK(runs.accepted.size() == 4);
  REQUIRE(!runs.rejected.empty());
  CHECK(runs.rejected.front().code == "impossible");
  // Nor do the others share what is wrong in it: they are as sure as in a log without it.
  const Instant later = shifted(runs.accepted.front().clock_start, -15.0);
  std::erase_if(log.fixes, [&](const Fix& fix) { return fix.time < later; });
  const Runs without = runs_of(log, "0-20 mph");
  REQUIRE(without.accepted.size() == 4);
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK(runs.accepted[i].splits[0].rollout.sd < 1.4 * without.accepted[i].splits[0].rollout.sd);
  }
}
