#include "bothways/run/pull.hpp"

#include "bothways/core/units.hpp"
#include "lib/run/rides.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>

using namespace bothways;

namespace {

sim::Vehicle weak_moped() {
  sim::Vehicle vehicle = sim::moped();
  vehicle.pull_N *= 0.75;
  vehicle.power_W *= 0.75;
  return vehicle;
}

/// Up a slope of 2 % against a light wind, and down with it.
sim::Road steep() {
  sim::Road road;
  road.slope = 0.02;
  road.wind_mps = 2.5;
  return road;
}

/// Part of the throttle, then a stop and back to where it began.
sim::Script gentle_way(double top_mps, double throttle) {
  sim::Script script = sim::one_way(top_mps, sim::run_length_m(weak_moped(), top_mps), 12.0);
  for (sim::Phase& phase : script) {
    if (phase.act == sim::Phase::Act::start) {
      phase = sim::gentle_start(phase.until_mps, throttle);
    }
  }
  return script;
}

Runs ridden(const sim::Script& script, const std::string& splits = "0-25 mph") {
  return runs_of(sim::receive(sim::ride(weak_moped(), steep(), script), {}, 71, ride_begin), splits);
}

std::size_t gentle_ones(const Runs& runs) {
  return static_cast<std::size_t>(std::count_if(runs.rejected.begin(), runs.rejected.end(),
                                                [](const Rejected& r) { return r.code == "gentle"; }));
}

}  // namespace

TEST_CASE("a weak vehicle's starts up a slope count, whatever the marks", "[run]") {
  for (const char* splits : {"0-15 mph", "0-25 mph", "60 ft"}) {
    CAPTURE(splits);
    CHECK(ridden(starts(4, 26.0, weak_moped()), splits).accepted.size() == 4);
  }
}

TEST_CASE("one start each way counts too", "[run]") {
  CHECK(ridden(starts(2, 26.0, weak_moped())).accepted.size() == 2);
}

TEST_CASE("part of the throttle on the road of the test starts stays gentle", "[run]") {
  sim::Script script = starts(4, 26.0, weak_moped());         // up, down, up, down
  sim::append(script, gentle_way(24.0 * mps_per_mph, 0.87));  // up the slope
  sim::append(script, gentle_way(20.0 * mps_per_mph, 0.6));   // down it
  const Runs runs = ridden(script, "0-15 mph");
  CHECK(runs.accepted.size() == 4);
  CHECK(gentle_ones(runs) == 2);
}

TEST_CASE("a weak pull alone that was let off early is no slope", "[run]") {
  sim::Script script = gentle_way(20.0 * mps_per_mph, 0.9);  // up the slope
  sim::append(script, starts(1, 26.0, weak_moped()));        // down it
  const Runs runs = ridden(script, "0-15 mph");
  CHECK(runs.accepted.size() == 1);
  CHECK(gentle_ones(runs) == 1);
}

TEST_CASE("full throttle up a slope that ends below the marks is not called gentle", "[run]") {
  const Runs runs = ridden(starts(4, 26.0, weak_moped()), "0-40 mph");
  CHECK(runs.accepted.empty());
  CHECK(runs.rejected.size() == 4);
  CHECK(gentle_ones(runs) == 0);
}

TEST_CASE("a gentle start is told by figures that make sense", "[run]") {
  const auto words = [](double pull, double needed) {
    return gentle_words({.pull_mps2 = pull, .best_mps2 = 1.0, .needed_share = needed, .gentle = true});
  };
  CHECK(words(0.46, 0.74) ==
        "gentle start: accelerated 46 % as hard as this log's best start; 74 % is needed to count");
  CHECK(words(0.0, 0.667) ==
        "gentle start: hardly accelerated at all beside this log's best start; 67 % is needed to count");
  CHECK(words(0.7231, 0.7242) ==
        "gentle start: accelerated 72.3 % as hard as this log's best start; 72.5 % is needed to count");
  CHECK(words(0.7432, 0.7434) ==
        "gentle start: accelerated 74.3 % as hard as this log's best start; 74.4 % is needed to count");
}
