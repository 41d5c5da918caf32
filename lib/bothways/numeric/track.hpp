#pragma once

#include <vector>

namespace bothways::numeric {

struct TrackNoise {
  double jerk_density = 4.0;   ///< m^2/s^5
  double white_sd = 0.5;       ///< m
  double drift_sd = 1.5;       ///< m, stationary
  double drift_time_s = 60.0;  ///< s
};

/// Smoothed velocity of a track on a plane.
struct TrackVelocity {
  std::vector<double> east_mps;   ///< (n)
  std::vector<double> north_mps;  ///< (n)
  std::vector<double> sd_mps;     ///< (n) of either
};

/// Fixed-interval smoother [RTS65] over position readings = place + drift + white, both axes at once; the
/// place moves with Wiener acceleration.
/// @param t_s      (n) strictly increasing, n >= 2
/// @param east_m   (n) readings, finite; north_m alike
[[nodiscard]] TrackVelocity smooth_track(const std::vector<double>& t_s, const std::vector<double>& east_m,
                                         const std::vector<double>& north_m, const TrackNoise& noise);

}  // namespace bothways::numeric
