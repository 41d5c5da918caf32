#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/speed/series.hpp"
#include "bothways/trip/samples.hpp"

namespace bothways {

/// Highest speed that the smoothed speed did not fall below for so long; all 0 where none was.
[[nodiscard]] Estimate sustained_mps(const SpeedSeries& series, const ValidSamples& samples,
                                     double duration_s);

}  // namespace bothways
