#pragma once

#include <vector>

namespace bothways::numeric {

/// Quantile p in 0..1 by linear interpolation; 0 for no values. Takes its values by copy and sorts in part.
[[nodiscard]] double quantile(std::vector<double> values, double p);

/// Half-width of a normal that has the same median absolute value: 1.4826 median |x|.
[[nodiscard]] double robust_sd(const std::vector<double>& values);

}  // namespace bothways::numeric
