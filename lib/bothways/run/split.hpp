#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/launch/launch.hpp"
#include "bothways/run/run.hpp"

#include <vector>

namespace bothways {

/// One posterior of a launch and how much it counts.
struct WeighedFit {
  LaunchFit fit;
  double weight = 1.0;  ///< sums to 1
};

/// Lighter paths, weight of the fit times that of the launch instant, have no part in the times.
inline constexpr double least_path_weight = 4e-3;

/// Fills movement, clock start, splits, edges and curve of `run` from the posteriors of its launch, best
/// first.
/// @param window_start  instant of t = 0 in the fits
/// @param end_s         the run counts up to here (lift, gap, end)
void time_run(const std::vector<WeighedFit>& fits, const std::vector<SplitSpec>& splits, Instant window_start,
              double end_s, Run& run);

}  // namespace bothways
