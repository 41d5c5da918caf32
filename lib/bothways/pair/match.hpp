#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"

#include <optional>
#include <vector>

namespace bothways {

struct PairOptions {
  double heading_tolerance_deg = 25.0;  ///< from exactly opposite, 0..45
  double sideways_m = 60.0;             ///< between the two tracks, >= 0
  double overlap = 0.5;                 ///< least shared stretch, share of the shorter run, 0..1
  double apart_s = 12 * 3600.0;         ///< longest time between partners: same day; >= 0
  bool metric = true;                   ///< distances in sentences in m, else ft
};

/// Pairs runs of opposite direction over the same stretch, each run used once: as many pairs as can be,
/// then least time apart. Runs of several rides may pair with each other, those of a log without a date only
/// within it, and those of different set-ups, where the conditions name them, not at all. Run ids must be
/// unique. The order of rides and runs changes nothing but the indices. Source: opposite directions over the
/// same road, pair by pair, after [GTR15] and [EU2017].
/// @throws std::invalid_argument  if an option is out of its range.
[[nodiscard]] Pairs pair_runs(const std::vector<Ride>& rides, const PairOptions& options = {});

/// All pairs of each split taken together, in the order of `splits`: the posterior of the mixed model (7.1).
/// The same figure as that of a side in compare() (docs/method.md, "Overall").
/// @throws std::invalid_argument  if a pair names a run that the rides do not hold.
[[nodiscard]] std::vector<Overall> overall(const std::vector<Ride>& rides, const Pairs& pairs,
                                           const std::vector<SplitSpec>& splits);

/// Pairs, and all of them of each split taken together.
struct Averaged {
  Pairs pairs;
  std::vector<Overall> overall;
};

/// What of it is worked out. The rest is 0 in an overall line; in a pair it is as ridden, less the wind. An
/// overall line's scatter_s is of the one clock asked for; TwoWay::budget is of rollout, and empty without
/// it.
struct AverageOptions {
  std::optional<Clock> only;  ///< times by this clock; nothing: by both
  bool each_pair = true;      ///< TwoWay::rollout, movement and budget
};

/// The pairs alone, with their times as ridden: what average_matched() takes further.
/// @throws std::invalid_argument  as pair_runs() does.
[[nodiscard]] Pairs match_runs(const std::vector<Ride>& rides, const PairOptions& options = {});

/// @param pairs   match_runs()
/// @param splits  of `overall`
[[nodiscard]] Averaged average_matched(const std::vector<Ride>& rides, Pairs pairs,
                                       const std::vector<SplitSpec>& splits,
                                       const AverageOptions& average = {});

/// Both: pair_runs() and overall() of what it gives, to the last bit, in half the time: the mixed model is
/// worked out once for both.
/// @throws std::invalid_argument  as pair_runs() does.
[[nodiscard]] Averaged average_runs(const std::vector<Ride>& rides, const std::vector<SplitSpec>& splits,
                                    const PairOptions& options = {}, const AverageOptions& average = {});

/// The same of pairs that are known, with their winds, from runs that may by now be timed for other splits.
/// @param pairs  runs and winds; their splits are made anew, without `overlap`
/// @throws std::invalid_argument  if a pair names a run that the rides do not hold.
[[nodiscard]] Averaged average_pairs(const std::vector<Ride>& rides, Pairs pairs,
                                     const std::vector<SplitSpec>& splits,
                                     const AverageOptions& average = {});

}  // namespace bothways
