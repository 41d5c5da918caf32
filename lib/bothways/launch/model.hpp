#pragma once

#include "bothways/core/geodesy.hpp"
#include "bothways/core/time.hpp"
#include "bothways/launch/launch.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// One start ready for the launch model: its readings, times from the first one.
struct LaunchWindow {
  Instant start;  ///< of t = 0
  std::vector<Reading> readings;
  LaunchRange range;
  double end_s = 0.0;        ///< last reading before the lift
  double heading_deg = 0.0;  ///< of the straight line travelled
  bool has_heading = false;
  LatLon place;       ///< where it stood; NaN where unknown
  LatLon end_place;   ///< at the lift
  LatLon stop_place;  ///< farthest point before it stopped or turned back
};

/// The model of a series' starts with usual values where the log says nothing.
[[nodiscard]] LaunchModel launch_model(const SpeedSeries& series);

/// Smoothing times to consider: none, and, where the positions say that the speed comes late, that lag; what
/// comes late as a whole without being smoothed does no harm.
[[nodiscard]] std::vector<double> lags_to_try(const Receiver& receiver);

/// Takes readings out, the wildest first, that lie more than `sds` standard deviations from what all others
/// say of them, at most so many. Returns how many.
std::size_t drop_wild_readings(LaunchWindow& window, const LaunchModel& model, double sds, std::size_t most);

/// Once the launch is over, readings closer than a tenth of a second are averaged to about that: they say the
/// same of the motion and cost less.
void average_late_readings(LaunchWindow& window);

}  // namespace bothways
