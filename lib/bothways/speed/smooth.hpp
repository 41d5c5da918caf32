#pragma once

#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// Fast logs: the median of each sample and its two neighbours, so that a single small outlier is gone before
/// averages are taken. Where three samples span more than half a second, the speeds unchanged.
[[nodiscard]] std::vector<double> median_of_three(const Stretch& stretch);

/// Means over 0.21 s either way of the valid samples of a column of the stretch; where there is none, the
/// mean before.
[[nodiscard]] std::vector<double> smoothed(const Stretch& stretch, const std::vector<double>& column);

}  // namespace bothways
