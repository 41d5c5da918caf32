#pragma once

#include "support/simulate/truth.hpp"

namespace bothways::sim {

/// What a perfect measurement would give both ways: time of the vehicle whose acceleration at each speed is
/// the mean of the two runs', roll-out clock, s. In bands of speed, 0.02 m/s at launch, 1 m/s from 4 m/s on.
/// Splits of speed only.
/// @throws std::invalid_argument  if a run does not reach the split, or the split is one of distance.
[[nodiscard]] double two_way_truth_s(const Truth& one, const TrueStart& one_start, const Truth& other,
                                     const TrueStart& other_start, const SplitSpec& spec);

}  // namespace bothways::sim
