#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"

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

}  // namespace bothways
