#pragma once

#include <cstddef>
#include <vector>

namespace bothways {

/// Noise at rest of a receiver whose readings there are mostly 0 or one step of the written speed.
struct RoundedRest {
  int axes = 2;         ///< a reading is the length of this many noises, 1 or 2
  double sd_mps = 0.0;  ///< of one of them, m/s, > 0
};

/// The likeliest noise for how often each written speed stands at rest: eq. (1.8).
/// @param counts    (k) readings of k steps
/// @param step_mps  > 0
[[nodiscard]] RoundedRest rounded_rest(const std::vector<std::size_t>& counts, double step_mps);

}  // namespace bothways
