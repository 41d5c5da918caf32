#pragma once

namespace bothways {

/// Scales of the half-t priors of the scatters (3 degrees of freedom) [GELMAN06], s, > 0; 0: no such scatter.
struct ScatterPrior {
  double pair_s = 0.0;   ///< between two pairs of one block
  double block_s = 0.0;  ///< between two blocks of one day
  double day_s = 0.0;    ///< between two days
};

/// sd of each level, s.
struct Scatters {
  double pair_s = 0.0;
  double block_s = 0.0;
  double day_s = 0.0;
};

}  // namespace bothways
