#pragma once

#include "bothways/core/geodesy.hpp"
#include "bothways/core/time.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/window.hpp"
#include "bothways/run/detect.hpp"
#include "bothways/speed/series.hpp"

#include <limits>
#include <optional>

namespace bothways {

/// One start ready for the launch model, and where it was ridden.
struct StartWindow {
  Instant start;  ///< of t = 0 in the window
  LaunchWindow launch;
  double end_s = 0.0;                 ///< last reading before the lift
  std::optional<double> heading_deg;  ///< of the straight line travelled
  LatLon place;                       ///< where it stood; NaN where unknown, as the next two
  LatLon end_place;                   ///< at the lift
  LatLon stop_place;                  ///< farthest point before it stopped or turned back
};

/// A start's readings as the launch model takes them, from a few seconds of rest before it to the lift.
/// @param model       launch_model(series)
/// @param long_creep  it may have crept for seconds before it was seen to move
[[nodiscard]] StartWindow start_window(const SpeedSeries& series, const StandingStart& start,
                                       const LaunchModel& model, bool long_creep);

}  // namespace bothways
