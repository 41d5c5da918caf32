#pragma once

#include "bothways/run/model.hpp"

#include <vector>

namespace bothways {

/// One way in which the vehicles of a log may get away from rest, and how likely it is given all starts.
struct LaunchGuess {
  LaunchShape shape;
  double lag_s = 0.0;         ///< smoothing inside the receiver
  double early_factor = 1.0;  ///< jerk factor until about 2 m/s
  double weight = 1.0;        ///< sums to 1 over the guesses kept
};

/// Chooses jerk density and white noise (in `model` and in the windows' readings) and gives the launch shapes
/// that the starts share (docs/method.md, "The launch posterior").
/// @param lags_s  smoothing times of the receiver to consider; at least one
/// @param alike   true: full-throttle starts of one vehicle, which get away alike; false: each start has
/// shapes of
///                its own
/// @return        guesses for each window, best first; at least one each
[[nodiscard]] std::vector<std::vector<LaunchGuess>> tune(LaunchModel& model,
                                                         std::vector<LaunchWindow>& windows,
                                                         const std::vector<double>& lags_s, bool alike);

/// Sets the jerk factor of the launch in a window's readings.
void set_early_factor(LaunchWindow& window, double factor);

}  // namespace bothways
