#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/run/run.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

struct RunOptions {
  std::vector<SplitSpec> splits = default_splits(false);  ///< what to time; at least one from rest
  bool include_gentle = false;                            ///< time gentle starts too
  bool metric = false;                                    ///< speeds in sentences in km/h, else mph
  std::vector<SplitSpec> more_splits{};  ///< timed besides, into Run::more_splits; they change nothing else
  unsigned jobs = 1;                     ///< threads that time runs at once; nothing else depends on it
};

/// Finds the standing starts, says which are runs, and times them.
/// @throws std::invalid_argument  if no split is asked.
[[nodiscard]] Runs find_runs(const SpeedSeries& series, const RunOptions& options = {});

}  // namespace bothways
