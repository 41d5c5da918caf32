#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/run/run.hpp"

#include <vector>

namespace bothways {

/// What one pair of runs says.
struct TwoWayResult {
  std::vector<TwoWay> splits;  ///< those that both runs have, in the order of the first run
  std::vector<Note> notes;     ///< partners-apart
};

/// The splits of a run each way, averaged so that slope drops out: the mean of the two accelerations at each
/// speed, in bands of speed no narrower than the noise allows (docs/method.md, "Two ways").
///
/// Exact for constant acceleration and any slope; within 0.01 % for the 15 hp scooter on 2 % of slope (test
/// "the pointwise mean agrees with the table of the scooter"). The part of the wind that is the same in both
/// directions stays. Exchanging the two runs changes nothing.
/// @param one    splits and edges of the first run; the edges may differ from those of the other.
/// @param other  the second run, in the opposite direction.
/// @return       sd holds the measurement only: both runs propagated, errors within a run taken as fully
///               correlated in the unfavourable way, those of the two runs as independent.
/// Source: harmonic mean of opposite runs after [GTR15], applied band by band.
[[nodiscard]] TwoWayResult two_way(const Run& one, const Run& other);

}  // namespace bothways
