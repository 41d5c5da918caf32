#pragma once

#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// Speed below which a sample counts as at rest, m/s: docs/method.md, (3.1).
[[nodiscard]] double rest_threshold_mps(const Receiver& receiver, SpeedSource source);

/// Smooths every stretch and judges which samples are at rest: fills rest_mps, smooth_mps and at_rest, and
/// where speeds are from positions frozen, with 0 for the speed there. The receiver must be known and the
/// outliers be marked.
void mark_rest(SpeedSeries& series);

}  // namespace bothways
