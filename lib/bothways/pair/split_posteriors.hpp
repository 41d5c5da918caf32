#pragma once

#include "bothways/pair/figures.hpp"

#include <optional>
#include <span>
#include <vector>

namespace bothways {

/// A split of a set of pairs by the clocks asked for. Between two speeds there is no start, so both clocks
/// tell the same, and only `rollout` is there.
struct SplitPosteriors {
  SplitSpec spec;
  std::optional<SidePosterior> rollout;
  std::optional<SidePosterior> movement;
};

/// Those of the splits that a pair has, in their order: most of the work on a set of pairs.
/// @param days  (pairs) the day of each
/// @param only  the clock to work out; nothing: both
[[nodiscard]] std::vector<SplitPosteriors> posteriors_of(const std::vector<Ride>& rides,
                                                         std::span<const Pair> pairs,
                                                         std::span<const int> days,
                                                         const std::vector<SplitSpec>& splits,
                                                         std::optional<Clock> only = std::nullopt);

/// Intervals of single pairs, from the scatters that all of them show: fills rollout, movement and budget, as
/// far as the posteriors, of these pairs, have the clock.
void put_intervals(const std::vector<Ride>& rides, std::vector<Pair>& pairs,
                   const std::vector<SplitPosteriors>& posteriors);

/// All splits of the pairs, in the order in which they come.
[[nodiscard]] std::vector<SplitSpec> splits_of(const std::vector<Pair>& pairs);

}  // namespace bothways
