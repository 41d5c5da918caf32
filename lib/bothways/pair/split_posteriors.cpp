// What all pairs show of a split, for the pairs together and for each of them.
#include "bothways/pair/split_posteriors.hpp"

#include "bothways/core/duration.hpp"
#include "bothways/numeric/square.hpp"
#include "bothways/pair/contrast_mixture.hpp"
#include "bothways/pair/days.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace bothways {

namespace {

using numeric::square;

/// What is known of a split by one clock: the results of all its pairs, and how a single pair scatters.
struct Known {
  std::span<const Outcome> outcomes;
  Scatters rms;
  numeric::Mixture scatter;  ///< about its time, s
};

std::optional<Known> known_of(const std::optional<SidePosterior>& side) {
  if (!side) {
    return std::nullopt;
  }
  return Known{side->results.outcomes, side->posterior.rms, scatter_mixture(side->posterior)};
}

/// The interval of one pair. @param outcome  of this pair
void put_interval(TwoWay& split, Clock clock, const Outcome& outcome, const Known& all,
                  double slope_variance) {
  const double launch = std::hypot(outcome.log_sd, outcome.receiver_sd);
  const double known = square(outcome.own_sd) + square(launch) + square(outcome.visit_sd) +
                       square(outcome.day_sd) + slope_variance;
  numeric::Mixture parts = all.scatter;
  for (auto& part : parts) {
    part.mean = outcome.value;
    part.variance += known;
  }
  const Estimate estimate = as_duration(estimate_of(parts));
  if (clock == Clock::movement) {
    split.movement = estimate;
    return;
  }
  split.rollout = estimate;
  split.budget = {.receiver = outcome.own_sd,
                  .launch = launch,
                  .scatter = all.rms.pair_s,
                  .block = all.rms.block_s,
                  .day = all.rms.day_s,
                  .slope = std::sqrt(std::max(0.0, slope_variance)),
                  .wind = split.wind_sd_s};
}

/// Variance that a slope which changes along the road may bring to one pair's time, s^2.
double slope_variance_of(const std::vector<Ride>& rides, const Pair& pair, const TwoWay& split,
                         const LocalPlane& plane) {
  SlopeWeights slope;
  if (!split.bands.empty()) {
    add_slope_weights(slope, 1.0, split.bands, run_of_pair(rides, pair, true),
                      run_of_pair(rides, pair, false), plane);
  }
  return slope_variance_s2(slope);
}

}  // namespace

std::vector<SplitSpec> splits_of(const std::vector<Pair>& pairs) {
  std::vector<SplitSpec> specs;
  for (const Pair& pair : pairs) {
    for (const TwoWay& split : pair.splits) {
      if (std::none_of(specs.begin(), specs.end(),
                       [&](const auto& s) { return s.name == split.spec.name; })) {
        specs.push_back(split.spec);
      }
    }
  }
  return specs;
}

std::vector<SplitPosteriors> posteriors_of(const std::vector<Ride>& rides, std::span<const Pair> pairs,
                                           std::span<const int> days, const std::vector<SplitSpec>& splits,
                                           std::optional<Clock> only) {
  const LocalPlane plane = plane_of(rides, pairs);
  std::vector<SplitPosteriors> all;
  for (const SplitSpec& spec : splits) {
    const auto by = [&](Clock clock) -> std::optional<SidePosterior> {
      SideResults results = results_of(rides, pairs, days, spec, clock, 0, plane);
      if (results.outcomes.empty()) {
        return std::nullopt;
      }
      return posterior_of(std::move(results));
    };
    SplitPosteriors both{.spec = spec, .rollout = {}, .movement = {}};
    if (only != Clock::movement || !spec.from_rest()) {
      both.rollout = by(Clock::rollout);
    }
    if (only != Clock::rollout && spec.from_rest()) {
      both.movement = by(Clock::movement);
    }
    if (both.rollout || both.movement) {
      all.push_back(std::move(both));
    }
  }
  return all;
}

void put_intervals(const std::vector<Ride>& rides, std::vector<Pair>& pairs,
                   const std::vector<SplitPosteriors>& posteriors) {
  const LocalPlane plane = plane_of(rides, pairs);
  for (const SplitPosteriors& of_split : posteriors) {
    const auto rollout = known_of(of_split.rollout);
    const auto movement = known_of(of_split.movement);
    std::size_t k = 0;  // of the results: those of the pairs with this split, in their order
    for (Pair& pair : pairs) {
      const auto split = std::find_if(pair.splits.begin(), pair.splits.end(),
                                      [&](const TwoWay& way) { return way.spec.name == of_split.spec.name; });
      if (split == pair.splits.end()) {
        continue;
      }
      const double slope_variance = slope_variance_of(rides, pair, *split, plane);
      if (rollout) {
        put_interval(*split, Clock::rollout, rollout->outcomes[k], *rollout, slope_variance);
      }
      if (movement) {
        put_interval(*split, Clock::movement, movement->outcomes[k], *movement, slope_variance);
      }
      if (!of_split.spec.from_rest()) {  // as from one foot: there is no start in it
        split->movement = split->rollout;
      }
      ++k;
    }
  }
}

}  // namespace bothways
