#include "bothways/pair/power_to_tell.hpp"

#include "bothways/pair/figures.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

const PlanBasis scooter{.own_s = 0.02,
                        .log_s = 0.01,
                        .wind_s = 0.01,
                        .scatter = {0.05, 0.015, 0.03},
                        .prior = {0.06, 0.015, 0.035},
                        .pairs = 3};

/// How often compare()'s model tells a difference that is there.
double told_share(const PlanBasis& b, int pairs, Ridden ridden, double difference_s, int trials) {
  std::mt19937_64 random(5);
  std::normal_distribution<double> normal;
  int told = 0;
  for (int trial = 0; trial < trials; ++trial) {
    SideResults sides[2];
    const double day = std::sqrt(0.5) * b.wind_s * normal(random);
    for (int side = 0; side < 2; ++side) {
      const double own_day = ridden == Ridden::two_days ? b.scatter.day_s * normal(random) +
                                                              std::sqrt(0.5) * b.wind_s * normal(random)
                                                        : day;
      const double common = own_day + std::sqrt(0.5) * (b.log_s + 0.0) * normal(random) +
                            std::sqrt(0.5) * b.wind_s * normal(random);
      double block = 0.0;
      for (int k = 0; k < pairs; ++k) {
        if (k == 0 || ridden == Ridden::turns) {
          block = b.scatter.block_s * normal(random) + std::sqrt(0.5) * b.log_s * normal(random);
        }
        Outcome o{.value = 5.0 + side * difference_s + common + block +
                           std::hypot(b.own_s, b.scatter.pair_s) * normal(random),
                  .own_sd = b.own_s,
                  .log_sd = std::sqrt(0.5) * b.log_s,
                  .receiver_sd = std::sqrt(0.5) * b.log_s,
                  .visit_sd = std::sqrt(0.5) * b.wind_s,
                  .day_sd = std::sqrt(0.5) * b.wind_s,
                  .side = side,
                  .day = ridden == Ridden::two_days ? side : 0};
        o.block = ridden == Ridden::turns ? 2 * k + side : side;
        o.log = static_cast<std::size_t>(o.block);
        sides[side].outcomes.push_back(o);
      }
      sides[side].prior = b.prior;
    }
    told += difference_of(sides[0], sides[1]).p_value <= 0.05 ? 1 : 0;
  }
  return static_cast<double>(told) / trials;
}

}  // namespace

TEST_CASE("a plan promises what a comparison keeps", "[pair]") {
  constexpr int trials = 300;  // sd of a share of 0.8: 0.023
  for (const Ridden ridden : {Ridden::blocks, Ridden::turns, Ridden::two_days}) {
    for (const int pairs : {2, 4}) {
      const Telling telling = telling_of(scooter, pairs, ridden);
      const double difference_s = difference_told(telling, 0.8);
      CAPTURE(static_cast<int>(ridden), pairs, difference_s);
      CHECK_THAT(power_of(telling, difference_s), WithinAbs(0.8, 1e-6));
      CHECK_THAT(told_share(scooter, pairs, ridden, difference_s, trials), WithinAbs(0.8, 0.1));
    }
  }
}

TEST_CASE("the error of a planned difference has its part of every level", "[pair]") {
  PlanBasis basis{.scatter = {0.0, 0.05, 0.03}, .prior = {0.01, 0.05, 0.03}, .pairs = 3};
  const double sqrt2 = std::sqrt(2.0);
  // Blocks are one a side, or one a pair in turns; days drop out of a difference ridden on one day.
  CHECK_THAT(telling_of(basis, 4, Ridden::blocks).sd_s, WithinAbs(0.05 * sqrt2, 1e-12));
  CHECK_THAT(telling_of(basis, 4, Ridden::turns).sd_s, WithinAbs(0.05 * sqrt2 / 2.0, 1e-12));
  CHECK_THAT(telling_of(basis, 4, Ridden::two_days).sd_s, WithinAbs(std::hypot(0.05, 0.03) * sqrt2, 1e-12));
  basis.error_share = 0.5;
  CHECK_THAT(telling_of(basis, 4, Ridden::blocks).sd_s, WithinAbs(0.025 * sqrt2, 1e-12));
}

TEST_CASE("more pairs tell smaller differences, and days apart larger ones", "[pair]") {
  double last = 1e9;
  for (const int pairs : {1, 2, 3, 5, 8, 20}) {
    const double told = difference_told(telling_of(scooter, pairs, Ridden::blocks), 0.8);
    CAPTURE(pairs, told, last);
    CHECK(told < last);
    CHECK(difference_told(telling_of(scooter, pairs, Ridden::two_days), 0.8) > told);
    last = told;
  }
  CHECK(difference_told(telling_of(scooter, 8, Ridden::turns), 0.8) <
        difference_told(telling_of(scooter, 8, Ridden::blocks), 0.8));
}

TEST_CASE("the fewest pairs that tell a difference are the plan", "[pair]") {
  const Plan plan = plan_pairs(0.15, scooter, Ridden::blocks);
  REQUIRE(plan.pairs > 1);
  CHECK(plan.power >= 0.8);
  CHECK(power_of(telling_of(scooter, plan.pairs - 1, Ridden::blocks), 0.15) < 0.8);
  CHECK(plan_pairs(10.0, scooter, Ridden::blocks).pairs == 1);
  CHECK(plan_pairs(0.001, scooter, Ridden::blocks).pairs == 0);  // no number of pairs outweighs the block
  CHECK_THROWS_AS(plan_pairs(0.0, scooter, Ridden::blocks), std::invalid_argument);
  CHECK_THROWS_AS(telling_of(scooter, 0, Ridden::blocks), std::invalid_argument);
}
