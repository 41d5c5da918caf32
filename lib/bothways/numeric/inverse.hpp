#pragma once

#include "bothways/numeric/motion.hpp"

namespace bothways::numeric {

struct Inverse {
  StateMatrix matrix = StateMatrix::Identity();
  double log_abs_det = 0.0;  ///< of the matrix inverted
};

/// Gauss-Jordan with row exchange, for matrices of the form I + (semi-definite) (semi-definite), which are
/// regular. Eigen's LU takes its large-matrix road from size 5 on; this one is several times quicker
/// (tests/bench).
[[nodiscard]] Inverse invert(StateMatrix m);

}  // namespace bothways::numeric
