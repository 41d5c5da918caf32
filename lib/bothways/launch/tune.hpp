#pragma once

#include "bothways/launch/model.hpp"
#include "bothways/launch/weigh.hpp"

#include <vector>

namespace bothways {

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

}  // namespace bothways
