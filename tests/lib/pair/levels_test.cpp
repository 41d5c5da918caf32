// Days, pairs and measurement in one interval. Seeded trials; measurement sd 0.02 s. 1000 a case: the sd of a
// coverage of 0.95 is 0.007.
#include "bothways/pair/levels.hpp"

#include <catch2/catch.hpp>

#include <random>
#include <tuple>
#include <utility>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

constexpr int trials = 1000;
constexpr double measurement_s = 0.02;

class Rider {
 public:
  explicit Rider(std::uint64_t seed) : random_(seed) {}

  [[nodiscard]] double normal() { return normal_(random_); }

  /// Pairs of some days; `shifts` are what each day does to all of its pairs.
  std::vector<Outcome> ride(int first_day, const std::vector<double>& shifts, int pairs, double scatter_s) {
    std::vector<Outcome> outcomes;
    for (std::size_t day = 0; day < shifts.size(); ++day) {
      for (int k = 0; k < pairs; ++k) {
        const double noise_s = scatter_s * normal() + measurement_s * normal();
        outcomes.push_back({.value = 5.0 + shifts[day] + noise_s,
                            .measurement = measurement_s,
                            .day = first_day + static_cast<int>(day)});
      }
    }
    return outcomes;
  }

  std::vector<double> shifts(int days, double day_s) {
    std::vector<double> all;
    for (int day = 0; day < days; ++day) {
      all.push_back(day_s * normal());
    }
    return all;
  }

 private:
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_;
};

std::vector<Outcome> blind(std::vector<Outcome> outcomes) {
  for (Outcome& outcome : outcomes) {
    outcome.day = 0;
  }
  return outcomes;
}

Estimate estimate_of(const LeveledDifference& difference) {
  return widest_of(difference.value, difference.looks);
}

bool holds(const Estimate& estimate, double truth) {
  return estimate.lo95 <= truth && truth <= estimate.hi95;
}

}  // namespace

TEST_CASE("the figure of a side holds the truth", "[pair]") {
  Rider rider(20260508);
  for (const auto& [days, pairs] : {std::pair{1, 2}, {1, 3}, {2, 1}, {2, 3}, {3, 1}, {3, 2}, {5, 2}}) {
    for (const double day_s : {0.0, 0.03, 0.1}) {
      for (const double scatter_s : {0.0, 0.03, 0.1}) {
        int held = 0;
        int held_blind = 0;
        for (int trial = 0; trial < trials; ++trial) {
          const auto outcomes = rider.ride(0, rider.shifts(days, days > 1 ? day_s : 0.0), pairs, scatter_s);
          held += holds(figure_of(leveled(outcomes), 0.0), 5.0) ? 1 : 0;
          held_blind += holds(figure_of(leveled(blind(outcomes)), 0.0), 5.0) ? 1 : 0;
        }
        CAPTURE(days, pairs, day_s, scatter_s, held, held_blind);
        CHECK(held >= 925);
        if (days > 1 && pairs > 1 && day_s > 0.05 && scatter_s == 0.0) {
          CHECK(held_blind < 880);  // what ignoring the days would give
        }
      }
    }
  }
}

TEST_CASE("one day is the mean of its pairs, and days weigh alike", "[pair]") {
  const std::vector<Outcome> one_day{{5.0, 0.01, 0}, {5.2, 0.01, 0}, {5.1, 0.01, 0}};
  const std::vector<double> values{5.0, 5.2, 5.1};
  const Estimate mean = mean_of(values, std::vector<double>(3, 0.01)).estimate;
  const Estimate figure = figure_of(leveled(one_day), 0.0);
  CHECK_THAT(figure.value, WithinAbs(mean.value, 1e-12));
  CHECK_THAT(figure.lo95, WithinAbs(mean.lo95, 1e-12));
  CHECK_THAT(figure.sd, WithinAbs(mean.sd, 1e-12));
  // Means 5.1 and 6.0: the mean of both, and Student's t(0.975, 1) = 12.7062 on 0.45.
  const std::vector<Outcome> two_days{{5.0, 0.01, 0}, {5.2, 0.01, 0}, {6.0, 0.01, 1}};
  const Estimate both = figure_of(leveled(two_days), 0.0);
  CHECK_THAT(both.value, WithinAbs(5.55, 1e-12));
  CHECK_THAT(both.hi95 - both.value, WithinAbs(12.7062 * 0.45, 1e-4));
  // A single pair: the allowance, and never less than the measurement.
  const std::vector<Outcome> single{{5.0, 0.03, 0}};
  CHECK_THAT(figure_of(leveled(single), 0.04).sd, WithinAbs(0.05, 1e-12));
  CHECK_THAT(figure_of(leveled(single), 0.0).sd, WithinAbs(0.03, 1e-12));
}

TEST_CASE("days of their own scatter are in the interval", "[pair]") {
  Rider rider(20260507);
  for (const auto& [before_days, after_days, day_s] : {std::tuple{2, 2, 0.0},
                                                       {2, 2, 0.1},
                                                       {3, 3, 0.05},
                                                       {3, 3, 0.2},
                                                       {5, 5, 0.1},
                                                       {1, 3, 0.1},
                                                       {1, 5, 0.2}}) {
    int held = 0;
    int naive = 0;
    for (int trial = 0; trial < trials; ++trial) {
      const auto before = rider.ride(0, rider.shifts(before_days, day_s), 3, 0.05);
      const auto after = rider.ride(100, rider.shifts(after_days, day_s), 3, 0.05);
      held += holds(estimate_of(leveled_difference(before, after)), 0.0) ? 1 : 0;
      naive += holds(estimate_of(leveled_difference(blind(before), blind(after))), 0.0) ? 1 : 0;
    }
    CAPTURE(before_days, after_days, day_s, held, naive);
    CHECK(held >= 900);
    CHECK(held <= 990);
    if (day_s > 0.15) {
      CHECK(naive < 800);
    }
  }
}

TEST_CASE("where both sides share their days the interval holds the truth", "[pair]") {
  // The days differ wildly, which drops out; the change differs a little from day to day.
  Rider rider(20260509);
  for (const auto& [days, pairs] : {std::pair{2, 1}, {2, 3}, {3, 1}, {3, 2}, {5, 1}}) {
    for (const double change_sd_s : {0.0, 0.05}) {
      for (const double scatter_s : {0.01, 0.06}) {
        int held = 0;
        for (int trial = 0; trial < trials; ++trial) {
          const auto shifts = rider.shifts(days, 0.5);
          auto later = shifts;
          for (double& shift : later) {
            shift += change_sd_s * rider.normal();
          }
          const auto before = rider.ride(0, shifts, pairs, scatter_s);
          const auto after = rider.ride(0, later, pairs, scatter_s);
          held += holds(estimate_of(leveled_difference(before, after)), 0.0) ? 1 : 0;
        }
        CAPTURE(days, pairs, change_sd_s, scatter_s, held);
        CHECK(held >= 925);
      }
    }
  }
}
