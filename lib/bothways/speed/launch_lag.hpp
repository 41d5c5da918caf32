#pragma once

#include "bothways/speed/departures.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// How much later speeds show the motion near rest than they do at speed.
struct LaunchLag {
  double excess_s = 0.0;      ///< at rest, beyond the lag at speed
  double sd_s = 0.0;          ///< how well that is known; 0 if the log cannot tell
  double fades_by_mps = 0.0;  ///< the excess falls evenly to nothing at this speed shown
};

/// What speeds lose of the way from the standing place near rest stays lost, eq. (1.9). Positions that lag
/// alike hide it; less than five departures cannot tell.
[[nodiscard]] LaunchLag estimate_launch_lag(const std::vector<Departure>& departures);

/// Candidates of the receiver's filter with one that fades, where the lag near rest is known beyond its
/// noise.
/// @param others  weights sum to 1
[[nodiscard]] std::vector<Smoothing> with_launch_lag(std::vector<Smoothing> others, const LaunchLag& lag);

}  // namespace bothways
