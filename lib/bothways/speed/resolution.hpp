#pragma once

#include <vector>

namespace bothways {

/// Step of the written speeds, m/s: the coarsest of 1, 0.5, 0.1 and 0.01 m/s, km/h, mph and knots of which 98
/// of 100 speeds are multiples, a second rounding aside; 0 if none is.
[[nodiscard]] double resolution_of(const std::vector<double>& speeds_mps);

}  // namespace bothways
