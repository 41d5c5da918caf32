// Figures of the mixed model from the two-way results; A = scatter_prior.
#include "bothways/pair/figures.hpp"

#include "bothways/core/duration.hpp"
#include "bothways/numeric/mixture.hpp"
#include "bothways/numeric/square.hpp"
#include "bothways/pair/contrast_mixture.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/uncertainty_components.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <string>
#include <utility>

namespace bothways {

namespace {

using numeric::square;

// By the population, seeds 21 and 22: of the launch's sd, shared beyond the hypotheses; of that variance,
// what all logs of a side have wrong alike; and of it, what both sides do.
constexpr double unknown_share = 0.85;
constexpr double shared_by_logs = 0.75;
constexpr double shared_by_sides = 0.85;
constexpr double wind_of_the_day = 0.5;  // of the wind's variance, that both sides of a day share

double floored_root(double x) {
  return std::sqrt(std::max(0.0, x));
}

const Estimate& as_ridden(const TwoWay& split, Clock clock) {
  return clock == Clock::rollout ? split.as_ridden : split.as_ridden_movement;
}

/// What the launch brings to each split from rest: it cannot be more than the shortest of them has.
double launch_sd(const Pair& pair, Clock clock) {
  double least = std::numeric_limits<double>::infinity();
  for (const TwoWay& split : pair.splits) {
    if (split.spec.from_rest()) {
      least = std::min(least, as_ridden(split, clock).sd);
    }
  }
  return least;
}

const TwoWay* find(const Pair& pair, const std::string& name) {
  const auto found = std::find_if(pair.splits.begin(), pair.splits.end(),
                                  [&](const TwoWay& split) { return split.spec.name == name; });
  return found == pair.splits.end() ? nullptr : &*found;
}

/// The same for the parts of one log on both sides.
std::size_t log_key(const std::vector<Ride>& rides, const Pair& pair, int side) {
  const std::string& path = rides[pair.ride].path;
  return path.empty() ? 2 * pair.ride + static_cast<std::size_t>(side) : std::hash<std::string>{}(path);
}

/// What a log's runs have wrong alike in the time of a pair, the mean of two runs.
struct SharedByRuns {
  double hypotheses_sd = 0.0;       ///< eq. (5.5), s
  double crossing_sd = 0.0;         ///< eq. (5.7), s
  double crossing_if_own_s2 = 0.0;  ///< variance that the latter would make if each run had its own error
};

/// Sd of the mean of two times with the errors a and b.
double sd_of_mean(const std::vector<double>& a, const std::vector<double>& b) {
  return 0.5 *
         floored_root(shared_covariance(a, a) + shared_covariance(b, b) + 2.0 * shared_covariance(a, b));
}

SharedByRuns shared_by_runs(const std::vector<Ride>& rides, const Pair& pair, const TwoWay& split,
                            Clock clock) {
  const Split* one = find_split(run_of_pair(rides, pair, true), split.spec.name);
  const Split* other = find_split(run_of_pair(rides, pair, false), split.spec.name);
  if (one == nullptr || other == nullptr) {
    return {};
  }
  const std::vector<double>& a = clock == Clock::rollout ? one->rollout_shared_s : one->movement_shared_s;
  const std::vector<double>& b = clock == Clock::rollout ? other->rollout_shared_s : other->movement_shared_s;
  const std::vector<double>& c = one->crossing_shared_s;
  const std::vector<double>& d = other->crossing_shared_s;
  return {.hypotheses_sd = sd_of_mean(a, b),
          .crossing_sd = sd_of_mean(c, d),
          .crossing_if_own_s2 = 0.25 * (shared_covariance(c, c) + shared_covariance(d, d))};
}

Outcome outcome_of(const std::vector<Ride>& rides, const Pair& pair, const TwoWay& split, Clock clock) {
  const SharedByRuns by_runs = shared_by_runs(rides, pair, split, clock);
  const double sd = floored_root(square(as_ridden(split, clock).sd) - by_runs.crossing_if_own_s2);
  const double unknown = split.spec.from_rest() ? unknown_share * launch_sd(pair, clock) : 0.0;
  const double launch = std::min(sd, std::hypot(by_runs.hypotheses_sd, unknown));
  const double shared = std::hypot(launch, by_runs.crossing_sd);
  return {.value = as_ridden(split, clock).value - split.wind_s,
          .own_sd = floored_root(sd * sd - launch * launch),
          .log_sd = std::sqrt(1.0 - shared_by_logs) * shared,
          .receiver_sd = std::sqrt(shared_by_logs) * shared,
          .visit_sd = std::sqrt(1.0 - wind_of_the_day) * split.wind_sd_s,
          .day_sd = std::sqrt(wind_of_the_day) * split.wind_sd_s};
}

void add_slope(const std::vector<Ride>& rides, const Pair& pair, const TwoWay& split, double share,
               const LocalPlane& plane, SlopeWeights& slope) {
  if (!split.bands.empty()) {
    add_slope_weights(slope, share, split.bands, run_of_pair(rides, pair, true),
                      run_of_pair(rides, pair, false), plane);
  }
}

constexpr Contrast one_side{1.0, 0.0};
constexpr Contrast after_less_before{-1.0, 1.0};

/// Variance of a contrast from what all outcomes of a side share: one receiver, one way of getting away.
double receiver_variance(std::span<const Outcome> outcomes, const Contrast& contrast) {
  std::array<double, 2> sum{};
  std::array<double, 2> n{};
  for (const Outcome& outcome : outcomes) {
    sum.at(static_cast<std::size_t>(outcome.side)) += outcome.receiver_sd;
    n.at(static_cast<std::size_t>(outcome.side)) += 1.0;
  }
  const double first = contrast[0] * sum[0] / std::max(n[0], 1.0);
  const double second = contrast[1] * sum[1] / std::max(n[1], 1.0);
  return square(first) + square(second) + 2.0 * shared_by_sides * first * second;
}

Figure figure_of(const MixedPosterior& posterior, std::span<const Outcome> outcomes, int sides,
                 const Contrast& contrast, double slope_variance) {
  const double receiver = receiver_variance(outcomes, contrast);
  const auto parts = mixture_of(posterior, contrast, slope_variance + receiver);
  const UncertaintyComponents components = components_of(outcomes, posterior.rms, sides, contrast);
  return {estimate_of(parts),
          {.receiver = components.own,
           .launch = std::sqrt(square(components.log) + receiver),
           .scatter = components.pair,
           .block = components.block,
           .day = components.day,
           .slope = floored_root(slope_variance),
           .wind = components.visit},
          p_value_of(parts),
          posterior.rms};
}

ScatterPrior mean_of(const ScatterPrior& a, const ScatterPrior& b, double share_of_b) {
  const auto mix = [&](double x, double y) { return x + share_of_b * (y - x); };
  return {mix(a.pair_s, b.pair_s), mix(a.block_s, b.block_s), mix(a.day_s, b.day_s)};
}

}  // namespace

std::vector<BudgetRow> budget_rows(const Budget& budget) {
  return {{"receiver", budget.receiver}, {"launch", budget.launch}, {"scatter", budget.scatter},
          {"block", budget.block},       {"day", budget.day},       {"slope", budget.slope},
          {"wind", budget.wind}};
}

LocalPlane plane_of(const std::vector<Ride>& rides, std::span<const Pair> pairs) {
  return pairs.empty() ? LocalPlane() : LocalPlane(run_of_pair(rides, pairs.front(), true).start);
}

ScatterPrior scatter_prior(double drive_s, double gust_s, bool from_rest) {
  const double launch_s = from_rest ? 0.02 : 0.0;
  return {std::hypot(0.011 * drive_s, launch_s, gust_s), 0.003 * drive_s, 0.0045 * drive_s};
}

SideResults results_of(const std::vector<Ride>& rides, std::span<const Pair> pairs, std::span<const int> days,
                       const SplitSpec& spec, Clock clock, int side, const LocalPlane& plane) {
  SideResults results;
  const auto n = static_cast<double>(std::count_if(
      pairs.begin(), pairs.end(), [&](const Pair& p) { return find(p, spec.name) != nullptr; }));
  double seen = 0.0;
  for (std::size_t k = 0; k < pairs.size(); ++k) {
    const TwoWay* split = find(pairs[k], spec.name);
    if (split == nullptr) {
      continue;
    }
    Outcome outcome = outcome_of(rides, pairs[k], *split, clock);
    outcome.side = side;
    outcome.day = days[k];
    outcome.log = log_key(rides, pairs[k], side);
    outcome.block = 2 * static_cast<int>(pairs[k].ride) + side;
    results.outcomes.push_back(outcome);
    add_slope(rides, pairs[k], *split, 1.0 / n, plane, results.slope);
    seen += 1.0;
    results.prior =
        mean_of(results.prior, scatter_prior(split->drive_s, split->gust_s, spec.from_rest()), 1.0 / seen);
    results.drive_s += split->drive_s / n;
  }
  return results;
}

SidePosterior posterior_of(SideResults results) {
  MixedPosterior posterior = mixed_posterior(results.outcomes, results.prior);
  return {std::move(results), std::move(posterior)};
}

Figure figure_of(const SidePosterior& side, double slope_s2) {
  Figure figure = figure_of(side.posterior, side.results.outcomes, 1, one_side, slope_s2);
  figure.estimate = as_duration(figure.estimate);
  return figure;
}

Figure figure_of(const SideResults& side) {
  SideResults alone = side;
  for (Outcome& outcome : alone.outcomes) {
    outcome.side = 0;
  }
  return figure_of(posterior_of(std::move(alone)), slope_variance_s2(side.slope));
}

Figure difference_of(const SideResults& before, const SideResults& after) {
  std::vector<Outcome> outcomes = before.outcomes;
  outcomes.insert(outcomes.end(), after.outcomes.begin(), after.outcomes.end());
  return figure_of(mixed_posterior(outcomes, mean_of(before.prior, after.prior, 0.5), 2), outcomes, 2,
                   after_less_before, slope_difference_variance_s2(before.slope, after.slope));
}

double half_width_of(std::span<const Outcome> outcomes, const ScatterPrior& prior, double level) {
  const auto parts = mixture_of(mixed_posterior(outcomes, prior, 2), after_less_before,
                                receiver_variance(outcomes, after_less_before));
  const auto summary = numeric::summarise(parts, level);
  return (summary.hi95 - summary.lo95) / 2.0;
}

}  // namespace bothways
