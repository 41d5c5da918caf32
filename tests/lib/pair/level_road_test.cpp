// Two-way times on the level road in still air, on starts of the made-up scooter of known truth.
#include "bothways/pair/level_road.hpp"

#include "bothways/pair/curve.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/pair/sensitivity.hpp"
#include "bothways/pair/slope.hpp"
#include "bothways/pair/two_way.hpp"
#include "lib/pair/made_up.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double lift_mps = 23.5;
const std::string slope_splits = "0-30 mph, 0-50 mph, 60 ft";

Run run_on_slope(double grade, double wind_mps) {
  return run_of(Start([=](double, double v) { return scooter_mps2(v, grade, wind_mps); }, lift_mps),
                slope_splits, 0.01);
}

/// Out to the east against the wind, back to the west with it.
Ride ride_in_wind(double wind_mps, double grade = 0.0, int pairs = 3) {
  std::vector<Run> runs;
  for (int k = 0; k < pairs; ++k) {
    const Run out = run_on_slope(grade, wind_mps);
    const Run back = run_on_slope(-grade, -wind_mps);
    runs.push_back(placed(out, 2 * k + 1, 600.0 * k, 0.0, true));
    runs.push_back(placed(back, 2 * k + 2, 600.0 * k + 120.0, out.length_m, false));
  }
  Ride ride = ride_of(runs);
  ride.conditions = Conditions{};
  ride.conditions->total_mass_kg = 200.0;
  return ride;
}

const TwoWay& split_of_pair(const Pairs& pairs, std::size_t split) {
  return pairs.made.at(0).splits.at(split);
}

}  // namespace

TEST_CASE("a pair's time in wind comes out as that of still air, within its interval", "[pair]") {
  const Run still = run_on_slope(0.0, 0.0);
  for (const double wind_mps : {0.0, 3.0, -5.0}) {
    const Pairs pairs = pair_runs({ride_in_wind(wind_mps)});
    REQUIRE(pairs.made.size() == 3);
    for (std::size_t split : {0U, 1U}) {
      CAPTURE(wind_mps, split);
      const TwoWay& two = split_of_pair(pairs, split);
      const double truth_s = still.splits[split].rollout.value;
      CHECK(two.rollout.lo95 <= truth_s);
      CHECK(two.rollout.hi95 >= truth_s);
      CHECK(two.as_ridden.value >= truth_s - 0.005);
      CHECK_THAT(two.rollout.value, WithinAbs(two.as_ridden.value - two.wind_s, 1e-9));
      if (std::abs(wind_mps) > 2.0) {
        CHECK(std::abs(two.rollout.value - truth_s) < std::abs(two.as_ridden.value - truth_s));
      }
    }
  }
}

TEST_CASE("the wind along the road is read from the runs, with its sign", "[pair]") {
  for (const double wind_mps : {0.0, 3.0, -3.0, 5.0}) {
    const Pairs pairs = pair_runs({ride_in_wind(wind_mps, 0.01)});
    REQUIRE(pairs.winds.size() == 1);
    CAPTURE(wind_mps, pairs.winds[0].along_mps.value, pairs.winds[0].along_mps.sd);
    CHECK(pairs.winds[0].along_mps.lo95 <= wind_mps);
    CHECK(pairs.winds[0].along_mps.hi95 >= wind_mps);
    CHECK(pairs.winds[0].along_mps.sd < 1.6);
    CHECK_THAT(pairs.winds[0].along_mps.value, WithinAbs(wind_mps, std::max(1.1, 0.35 * std::abs(wind_mps))));
    CHECK(pairs.winds[0].heading_deg == 90.0);
  }
}

TEST_CASE("one metre a second of gust is worth what quadrature says of the scooter", "[pair]") {
  // k (integral of v / a^2 dv) of the scooter of section 9 of the facts, both runs alike: 0.018 s to 30 mph,
  // 0.128 s to 50 mph, by our own quadrature.
  const Run run = run_on_slope(0.0, 0.0);
  const auto curve = mean_course_of(run, run);
  REQUIRE(curve);
  const double k = 0.5 * 1.2 * 0.55 / 210.0;
  const auto gust_s = [&](const std::string& name) {
    double sum = 0.0;
    for (const SensitiveBand& band : sensitivity_of(*curve, parse_splits(name).front())) {
      sum += band.seconds_per_mps2 * k * band.v_mps;
    }
    return sum;
  };
  CHECK_THAT(gust_s("0-30 mph"), WithinRel(0.018, 0.06));
  CHECK_THAT(gust_s("0-50 mph"), WithinRel(0.128, 0.06));
}

TEST_CASE("the sensitivity of a split is the difference that a little drive makes", "[pair]") {
  const double more_mps2 = 0.01;
  const Run run = run_on_slope(0.0, 0.0);
  const Run quicker = run_of(Start([=](double, double v) { return scooter_mps2(v) + more_mps2; }, lift_mps),
                             slope_splits, 0.01);
  const auto curve = mean_course_of(run, run);
  REQUIRE(curve);
  for (std::size_t k = 0; k < run.splits.size(); ++k) {
    double sum = 0.0;
    for (const SensitiveBand& band : sensitivity_of(*curve, run.splits[k].spec)) {
      sum += band.seconds_per_mps2 * more_mps2;
    }
    CAPTURE(run.splits[k].spec.name);
    // The part before the first foot is left out: up to a tenth of 60 ft.
    CHECK_THAT(sum, WithinRel(run.splits[k].rollout.value - quicker.splits[k].rollout.value, 0.12));
  }
}

TEST_CASE("a slope that bends leaves much where the runs go apart, and little on one stretch", "[pair]") {
  // [facts 9.3]: 1 % in 100 m at 0-50 mph: -0.13 % over one stretch from its two ends, +3.4 % from one point
  // apart.
  const Run run = run_on_slope(0.0, 0.0);
  const auto curve = mean_course_of(run, run);
  REQUIRE(curve);
  const auto bands = sensitivity_of(*curve, parse_splits("0-50 mph").front());
  const LocalPlane plane({52.0, 11.0});
  const auto left_s = [&](double back_from_m) {
    SlopeWeights weights;
    add_slope_weights(weights, 1.0, bands, placed(run, 1, 0.0, 0.0, true),
                      placed(run, 2, 120.0, back_from_m, false), plane);
    double steady = 0.0;
    for (const auto& place : weights.places) {
      steady += place.east_s;
    }
    CHECK_THAT(steady, WithinAbs(0.0, 1e-6));  // a steady slope drops out
    CHECK_THAT(slope_variance_s2(weights), WithinRel(slope_covariance_s2(weights, weights), 1e-12));
    return std::sqrt(slope_variance_s2(weights));
  };
  const double same = left_s(run.length_m);
  const double apart = left_s(0.0);
  CAPTURE(same, apart);
  CHECK(apart > 2.0 * same);
  CHECK(same > 0.01);
}

TEST_CASE("slopes drop out of a difference on one stretch, and count more than once elsewhere", "[pair]") {
  const Run run = run_on_slope(0.0, 0.0);
  const auto curve = mean_course_of(run, run);
  REQUIRE(curve);
  const auto bands = sensitivity_of(*curve, parse_splits("0-30 mph").front());
  const LocalPlane plane({52.0, 11.0});
  const auto from = [&](double start_m) {
    SlopeWeights weights;
    add_slope_weights(weights, 1.0, bands, placed(run, 1, 0.0, start_m, true),
                      placed(run, 2, 120.0, start_m + run.length_m, false), plane);
    return weights;
  };
  const SlopeWeights before = from(0.0);
  CHECK_THAT(slope_difference_variance_s2(before, before), WithinAbs(0.0, 1e-12));
  double less = 0.0;
  for (const double shift_m : {10.0, 40.0, 2000.0}) {
    const double here = slope_difference_variance_s2(before, from(shift_m));
    CAPTURE(shift_m, here);
    CHECK(here > less);
    less = here;
  }
  // Two stretches far apart have two slopes, each of 1.25 % in place of 0.5.
  CHECK_THAT(less, WithinRel(2.0 * 6.25 * slope_variance_s2(before), 0.01));
}

TEST_CASE("a pair's interval holds what its budget says", "[pair]") {
  const Pairs pairs = pair_runs({ride_in_wind(2.0)});
  const TwoWay& two = split_of_pair(pairs, 0);
  double sum = 0.0;
  for (const BudgetRow& row : budget_rows(two.budget)) {
    CAPTURE(row.code);
    CHECK(row.sd_s >= 0.0);
    sum += row.sd_s * row.sd_s;
  }
  CHECK_THAT(two.rollout.sd, WithinRel(std::sqrt(sum), 0.02));
  CHECK(two.budget.receiver > 0.0);
  CHECK(two.budget.slope > 0.0);
  CHECK(two.budget.wind > 0.0);
}
