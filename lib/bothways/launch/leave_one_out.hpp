#pragma once

#include "bothways/launch/hypothesis.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/window.hpp"

#include <cstddef>

namespace bothways {

/// A window whose readings have the weights that all the others give them.
struct WeightedWindow {
  LaunchWindow window;
  std::size_t outliers = 0;  ///< readings left with hardly any weight
};

/// Weighs each reading by what all the others say of it. Its error is white noise or, in a share of readings,
/// a wide law (contaminated normal): the leave-one-out residual of the smoother tells the odds, and the
/// variance becomes the inverse of the expected precision, eqs. (4.9), (4.10). Weights are found in a few
/// rounds, under the likeliest launch instant; evidences then hold them fixed.
[[nodiscard]] WeightedWindow weighted_readings(const LaunchWindow& window, const LaunchModel& model,
                                               const LaunchHypothesis& hypothesis);

}  // namespace bothways
