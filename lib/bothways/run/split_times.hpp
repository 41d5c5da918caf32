#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/launch/posterior.hpp"
#include "bothways/run/run.hpp"

#include <vector>

namespace bothways {

/// The times of a run: mixtures over the paths of its launch posterior.
/// @param window_start  instant of t = 0 in the posterior
/// @param end_s         the run counts up to here (lift, gap, end)
/// @return              a run with movement, clock start, splits, edges and curve; without clock and splits
/// where
///                      no path covers a foot
/// @param more          splits for Run::more_splits
[[nodiscard]] Run timed_run(const LaunchPosterior& posterior, const std::vector<SplitSpec>& splits,
                            Instant window_start, double end_s, const std::vector<SplitSpec>& more = {});

}  // namespace bothways
