#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"

#include <vector>

namespace bothways {

struct PairOptions {
  double heading_tolerance_deg = 25.0;  ///< from exactly opposite
  double sideways_m = 60.0;             ///< between the two tracks
  double overlap = 0.5;                 ///< least shared stretch, share of the shorter run
  double apart_s = 12 * 3600.0;         ///< longest time between partners: same day
};

/// Pairs runs of opposite direction over the same stretch, each run used once: as many pairs as can be,
/// then least time apart. Runs of several rides may pair with each other. Run ids must be unique.
[[nodiscard]] Pairs pair_runs(const std::vector<Ride>& rides, const PairOptions& options = {});

/// Mean over the pairs, a row for each split that any pair has, in the order of `names`.
[[nodiscard]] std::vector<Overall> overall(const std::vector<Ride>& rides, const Pairs& pairs,
                                           const std::vector<std::string>& names);

}  // namespace bothways
