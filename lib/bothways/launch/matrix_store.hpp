#pragma once

#include "bothways/numeric/backward.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace bothways {

/// The matrices of a backward pass at one time: they do not depend on what was read, only on when and how
/// well.
struct PassMatrices {
  double dt_s = 0.0;              ///< of the step from here to the next time; 0 at the last one
  double factor = 1.0;            ///< jerk factor of that step
  double variance = 0.0;          ///< of the reading here; 0: none
  double log_peak = 0.0;          ///< log of that reading's density at its mean
  numeric::CarriedMatrices step;  ///< over the step; `information` with the reading here
};

/// What backward passes have in common. Windows of one log end alike: the same steps and the same noise,
/// counted from the end. So the matrices of the last pass under each of a few motions are kept, last time
/// first; a pass takes over what is the same and replaces the rest. One thread at a time.
class MatrixStore {
 public:
  /// The pass kept for a motion, emptied if there was another motion's in its place.
  [[nodiscard]] std::vector<PassMatrices>& of(const numeric::Motion& motion);

 private:
  struct Kept {
    numeric::Motion motion;
    std::vector<PassMatrices> pass;
  };
  std::array<Kept, 4> kept_;  ///< three lags and the one that is being tuned
  std::size_t next_ = 0;
};

}  // namespace bothways
