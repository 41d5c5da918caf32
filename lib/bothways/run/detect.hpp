#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// A standing start as seen in the samples, before anyone asks whether it counts. Indices are rows of its
/// stretch.
struct StandingStart {
  enum class End { lift, series_end };
  std::size_t stretch = 0;
  std::size_t rest_begin = 0;  ///< first row at rest
  std::size_t rest_end = 0;    ///< last row at rest
  std::size_t moving = 0;      ///< first row after it: surely moving
  std::size_t end = 0;         ///< last row before the lift
  End ended_by = End::lift;
  double rest_s = 0.0;    ///< time at rest as seen
  double unread_s = 0.0;  ///< from the last valid sample at rest to `moving`
  double top_mps = 0.0;   ///< highest speed before the lift
};

/// An acceleration from a roll.
struct RollingStart {
  std::size_t stretch = 0;
  std::size_t row = 0;  ///< slowest row
  double from_mps = 0.0;
  double top_mps = 0.0;
  double accel_mps2 = 0.0;  ///< mean over the first 2 s
};

/// A stretch that begins in motion right after a gap, the vehicle having stood before it.
struct HiddenStart {
  std::size_t stretch = 0;  ///< the one that begins in motion
  double gap_s = 0.0;
};

struct Starts {
  std::vector<StandingStart> standing;
  std::vector<RollingStart> rolling;
  std::vector<HiddenStart> hidden;
};

/// All starts of a series, in order of time.
[[nodiscard]] Starts detect_starts(const SpeedSeries& series);

/// First time at which the smoothed speed reaches a level at or after a row, by straight lines; negative if
/// never before `end`.
[[nodiscard]] double time_at_speed(const Stretch& stretch, std::size_t from, std::size_t end,
                                   double level_mps);

}  // namespace bothways
