#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/run/detect.hpp"
#include "bothways/run/run.hpp"
#include "bothways/speed/series.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// A start that is to be timed.
struct CountedStart {
  StandingStart start;
  double pull_mps2 = 0.0;   ///< mean acceleration while it gained `gained_mps`
  double gained_mps = 1.0;  ///< > 0
  bool gentle = false;
};

struct TimedStarts {
  /// One a start, in their order; without splits where the first mark is not surely reached.
  std::vector<Run> runs;
  std::vector<Note> notes;
  std::size_t outliers = 0;  ///< readings left out
};

/// Times starts of one log. Full-throttle starts that pull alike share what all of them say of the launch;
/// others are timed one by one (docs/method.md, "The launch posterior").
/// @param hard  they may be full-throttle starts
/// @param more  splits for Run::more_splits
/// @param jobs  threads at most
[[nodiscard]] TimedStarts time_starts(const SpeedSeries& series, const std::vector<CountedStart>& starts,
                                      const std::vector<SplitSpec>& splits, bool hard,
                                      const std::vector<SplitSpec>& more = {}, unsigned jobs = 1);

}  // namespace bothways
