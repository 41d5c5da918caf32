// Truth of the intervals on simulated rides. The grid of vehicles and receivers is tests/truth.

#include "bothways/core/units.hpp"
#include "lib/run/rides.hpp"
#include "support/simulate/random.hpp"
#include "support/tally.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <string>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// 95 of 100 less three sd of the share among 60 runs, sqrt(0.95 0.05 / 60) = 0.028.
constexpr double least_of_60 = 0.866;

/// Intervals of times from rest are wider on purpose, for receivers that the model does not know: by the
/// factor of (5.6), so that the mean of (error / sd)^2 would be 0.72, and by (5.8), 0.02 s beside the 0.02 s
/// that a receiver like these leaves. Half or twice the sd gives 1.2 and 0.08.
auto right_width() {
  return WithinAbs(0.32, 0.16);
}

/// From mark to mark; measured 0.55 to 0.62: receivers unlike this one are in the priors too.
auto right_width_of_300() {
  return WithinAbs(0.65, 0.15);
}

/// Many starts of one vehicle that are not quite alike, seen by many receivers of one kind.
Tally tally(const sim::Vehicle& vehicle, sim::ReceiverModel model, const std::string& split, int rides) {
  const SplitSpec spec = parse_splits(split).front();
  Tally out;
  for (int i = 0; i < rides; ++i) {
    const auto seed = static_cast<std::uint64_t>(700 + i);
    const sim::Truth truth = sim::ride(vehicle, {}, starts(6, 53.0, vehicle), seed, {0.01, 0.1, 0.1});
    sim::Random random(seed);
    model.phase_s = random.uniform(0.0, 1.0 / model.rate_hz);
    const Runs runs = runs_of(sim::receive(truth, model, seed, ride_begin), split);
    CHECK(runs.accepted.size() == 6);
    for (const Run& run : runs.accepted) {
      const sim::TrueStart* start = true_start_of(truth, run);
      REQUIRE(start != nullptr);
      const double true_s = sim::true_split_s(truth, *start, spec, Clock::rollout).value();
      out.add(run.splits.front().rollout, true_s);
    }
  }
  return out;
}

}  // namespace

TEST_CASE("at 10 Hz and 0.05 m/s at least 92 of 100 intervals hold the truth, rms below 0.03 s at 0-30 mph",
          "[run][slow]") {
  const Tally thirty = tally(sim::scooter(), {}, "0-30 mph", 50);
  REQUIRE(thirty.n == 300);
  CHECK(thirty.share() >= 0.92);
  CHECK(thirty.rms() < 0.03);
  CHECK_THAT(thirty.mean_square_z(), right_width());
  const Tally fifty = tally(sim::scooter(), {}, "0-50 mph", 50);
  CHECK(fifty.share() >= 0.92);
  CHECK_THAT(fifty.mean_square_z(), WithinAbs(0.48, 0.15));  // (5.8) is less of a longer time
  const Tally rolling = tally(sim::scooter(), {}, "30-50 mph", 50);
  CHECK(rolling.share() >= 0.92);
  CHECK_THAT(rolling.mean_square_z(), right_width_of_300());
}

TEST_CASE("in a short series of rides nine of ten intervals hold the truth and the rms is below 0.03 s",
          "[run]") {
  // 60 runs: nine of ten is 1.8 sd below 95 of 100.
  const Tally few = tally(sim::scooter(), {}, "0-30 mph", 10);
  REQUIRE(few.n == 60);
  CHECK(few.share() >= least_of_60);
  CHECK(few.rms() < 0.03);
  CHECK_THAT(few.mean_square_z(), right_width());
}

TEST_CASE("held zeros widen the interval and do not make it false", "[run]") {
  sim::ReceiverModel model;
  model.zero_hold_mps = 0.6;
  const Tally held = tally(sim::scooter(), model, "0-30 mph", 10);
  CHECK(held.share() >= least_of_60);
  CHECK(std::abs(held.bias()) < 0.03);
  // Too wide for a launch like this one: how far below the hold another begins, and how the receiver filters,
  // nothing tells.
  CHECK_THAT(held.mean_square_z(), WithinAbs(0.12, 0.07));
}

TEST_CASE("coarse steps of the written speed do not make the interval false", "[run][trials]") {
  sim::ReceiverModel model;
  model.resolution_mps = 0.1 * mps_per_knot;
  const Tally coarse = tally(sim::scooter(), model, "0-30 mph", 10);
  CHECK(coarse.share() >= least_of_60);
  CHECK(coarse.rms() < 0.04);
  CHECK_THAT(coarse.mean_square_z(), right_width());
}

TEST_CASE("readings at rest that are mostly one step of the written speed are no creeping", "[run][trials]") {
  // Times from first movement began 1.5 to 2.6 s early.
  struct Coarse {
    double rate_hz;
    double step_mps;
    double white_mps;
  };
  // A quarter of the readings at rest is 0, which was taken for a hold.
  for (const Coarse c : {Coarse{10.0, 0.1 * mps_per_knot, 0.034}, Coarse{5.0, 0.5 * mps_per_kmh, 0.09},
                         Coarse{10.0, 0.1, 0.064}}) {
    CAPTURE(c.rate_hz, c.step_mps, c.white_mps);
    sim::ReceiverModel model;
    model.rate_hz = c.rate_hz;
    model.white_sd_mps = c.white_mps;
    model.slow_sd_mps = 0.2 * c.white_mps;
    model.resolution_mps = c.step_mps;
    const SplitSpec thirty = parse_splits("0-30 mph").front();
    int held = 0;
    int all = 0;
    for (const std::uint64_t seed : {701U, 702U}) {
      const sim::Truth truth = sim::ride(sim::scooter(), {}, starts(6, 53.0), seed, {0.01, 0.1, 0.1});
      for (const Run& run : runs_of(sim::receive(truth, model, seed, ride_begin), "0-30 mph").accepted) {
        const sim::TrueStart* start = true_start_of(truth, run);
        REQUIRE(start != nullptr);
        const double true_s = sim::true_split_s(truth, *start, thirty, Clock::movement).value();
        const Estimate& found = run.splits.front().movement;
        CHECK_THAT(found.value, WithinAbs(true_s, 0.6));
        held += found.lo95 <= true_s && true_s <= found.hi95 ? 1 : 0;
        ++all;
      }
    }
    CHECK(all == 12);
    CHECK(held >= 10);
  }
}

TEST_CASE("positions alone give true intervals at 10 Hz", "[run][trials]") {
  sim::ReceiverModel model;
  model.with_speed = false;
  const Tally positions = tally(sim::scooter(), model, "0-30 mph", 10);
  CHECK(positions.share() >= least_of_60);
  CHECK_THAT(positions.mean_square_z(), WithinAbs(0.6, 0.3));  // no filter is in question
}
