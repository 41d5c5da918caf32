#include "bothways/pair/plan.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <stdexcept>
#include <utility>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("sample sizes agree with published ones", "[pair]") {
  // Two samples, two-sided 0.05, power 0.8: [COHEN88] as printed by the vignette and help of R's pwr package.
  CHECK_THAT(pairs_needed(0.5), WithinAbs(63.76561, 1e-4));
  CHECK_THAT(pairs_needed(0.3), WithinAbs(175.3847, 1e-3));
  CHECK_THAT(pairs_needed(0.8), WithinAbs(25.52458, 1e-4));
  CHECK_THAT(pairs_needed(0.75 / 2.25), WithinAbs(142.2462, 1e-3));
  CHECK_THAT(pairs_needed(0.2), WithinAbs(393.4057, 1e-3));
  CHECK_THAT(power_of(0.5, 63), WithinAbs(0.795168, 1e-6));
  CHECK_THAT(power_of(0.5, 64), WithinAbs(0.801460, 1e-6));
  CHECK_THAT(power_of(0.5, 30), WithinAbs(0.4778965, 1e-6));
  for (const auto& [effect, pairs] :
       {std::pair{0.5, 64}, {0.8, 26}, {1.0, 17}, {1.5, 9}, {2.0, 6}, {3.0, 4}}) {
    CAPTURE(effect);
    CHECK(plan_pairs(effect, 1.0).pairs == pairs);
  }
  // One sample of differences, one-sided: the same source.
  const PlanOptions one_sided{.two_sided = false, .two_sides = false};
  CHECK_THAT(power_of(0.32, 24, one_sided), WithinAbs(0.4508691, 1e-6));
  CHECK_THAT(pairs_needed(0.32, one_sided), WithinAbs(61.75209, 1e-4));
  const double effect = 0.08 / (0.1 * std::sqrt(2.0));
  CHECK_THAT(pairs_needed(effect, one_sided), WithinAbs(20.74232, 1e-4));
  CHECK_THAT(pairs_needed(5.0 / 22.5, {.power = 0.9, .two_sided = false, .two_sides = false}),
             WithinAbs(174.7796, 1e-3));
  // Own calculation for a paired design.
  const PlanOptions paired{.two_sides = false};
  CHECK(std::ceil(pairs_needed(1.0, paired)) == 10);
  CHECK(std::ceil(pairs_needed(1.5, paired)) == 6);
  CHECK(std::ceil(pairs_needed(2.0, paired)) == 5);
}

TEST_CASE("a plan turns a difference and a scatter into pairs", "[pair]") {
  // 1.5 % of scatter: 37 pairs a side for 1 %, 10 for 2 %, 6 for 3 % (own calculation).
  CHECK(plan_pairs(1.0, 1.5).pairs == 37);
  CHECK(plan_pairs(2.0, 1.5).pairs == 10);
  CHECK(plan_pairs(3.0, 1.5).pairs == 6);
  const Plan plan = plan_pairs(0.2, 0.15);
  CHECK(plan.power >= 0.8);
  CHECK(power_of(0.2 / 0.15, plan.pairs - 1) < 0.8);
  CHECK(plan.text.find("0.2 s") != std::string::npos);
  CHECK(plan_pairs(0.2, 0.0).pairs == 2);
  CHECK(plan_pairs(1e-9, 1.0).pairs == 0);
  CHECK(plan_pairs(1e9, 1.0).pairs == 2);
}

TEST_CASE("the effect that n pairs show needs n pairs", "[pair]") {
  for (const double n : {3.0, 5.0, 12.0}) {
    CHECK_THAT(pairs_needed(effect_seen(n)), WithinAbs(n, 1e-4));
  }
}

TEST_CASE("the ride plan says how many starts to make, and to go both ways", "[pair]") {
  const auto steps = ride_plan(6);
  REQUIRE(steps.size() > 4);
  CHECK(steps[2].find("12 standing starts, one way and then back") != std::string::npos);
  CHECK(steps[2].find("6 pairs") != std::string::npos);
  CHECK_THROWS_AS(ride_plan(0), std::invalid_argument);
}

TEST_CASE("a plan refuses what makes no sense", "[pair]") {
  CHECK_THROWS_AS(plan_pairs(0.0, 0.1), std::invalid_argument);
  CHECK_THROWS_AS(plan_pairs(0.1, -0.1), std::invalid_argument);
  CHECK_THROWS_AS(plan_pairs(0.1, 0.1, {.power = 1.0}), std::invalid_argument);
  CHECK_THROWS_AS(plan_pairs(0.1, 0.1, {.level = 0.0}), std::invalid_argument);
  CHECK_THROWS_AS(power_of(0.5, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(effect_seen(1.0), std::invalid_argument);
}
