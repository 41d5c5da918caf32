#pragma once

#include "bothways/launch/path.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// A rise of the mean path: from a valley to a peak. Where it ends in a plateau its steep part ends at a
/// knee, which the smoothed path rounds off: the peak was higher than it shows.
struct Rise {
  std::size_t valley = 0;
  std::size_t peak = 0;
  std::size_t knee = 0;       ///< = peak where there is none
  std::size_t goes_on = 0;    ///< where the path is steep again
  double knee_slope = 0.0;    ///< before it
  double knee_width_s = 0.0;  ///< twice the time in which the slope goes through the middle half of its fall
  double rounded_off = 0.0;   ///< how much higher than the path's peak the speed was, mean
  double rounded_sd = 0.0;    ///< of that
};

/// Rises up to a time, from rest on, parted by dips of more than the path's own uncertainty and by plateaus.
[[nodiscard]] std::vector<Rise> rises_until(const SmoothedPath& path, int row, double end_s);

}  // namespace bothways
