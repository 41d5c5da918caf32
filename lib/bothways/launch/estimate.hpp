#pragma once

#include "bothways/launch/hypothesis.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/window.hpp"

#include <vector>

namespace bothways {

/// What a log's launches say of themselves.
struct LaunchEstimate {
  LaunchModel model;  ///< with jerk density and white factor
  /// (windows) for each start its hypotheses with posterior weights, the likeliest first; at least one each
  std::vector<std::vector<WeightedHypothesis>> hypotheses;
};

/// MAP estimates of jerk density and white noise, and posterior weights of the launch hypotheses
/// (docs/method.md, "The launch posterior").
/// @param smoothing  candidates of the receiver's smoothing; at least one
/// @param pooled     true: full-throttle starts of one vehicle, which get away alike and share hypotheses;
///                   false: each start has its own
[[nodiscard]] LaunchEstimate estimate_launches(const LaunchModel& from,
                                               const std::vector<LaunchWindow>& windows,
                                               const std::vector<Smoothing>& smoothing, bool pooled);

}  // namespace bothways
