#pragma once

#include "bothways/launch/at_rest.hpp"
#include "bothways/launch/reading.hpp"

#include <vector>

namespace bothways {

/// The data of one start, times from its first reading. A value: later steps make another window of it.
struct LaunchWindow {
  std::vector<Reading> readings;  ///< in order of time, from before the launch to the end of the run
  LaunchRange range;
  RestFilter at_rest;  ///< what the readings say as long as the vehicle stands
};

/// @param readings  >= 2 after range.latest_s
[[nodiscard]] LaunchWindow launch_window(std::vector<Reading> readings, const LaunchRange& range,
                                         const LaunchModel& model);

}  // namespace bothways
