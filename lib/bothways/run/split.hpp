#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/run/launch.hpp"
#include "bothways/run/run.hpp"

#include <vector>

namespace bothways {

/// Fills movement, clock start, splits, edges and curve of `run` from the posterior of its launch.
/// @param window_start  instant of t = 0 in the fit
/// @param end_s         the run counts up to here (lift, gap, end)
void time_run(const LaunchFit& fit, const std::vector<SplitSpec>& splits, Instant window_start, double end_s,
              Run& run);

}  // namespace bothways
