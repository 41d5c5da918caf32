#pragma once

#include "bothways/speed/brake_ends.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// Posterior of the receiver's smoothing, speeds and positions alike: a prior after open data, the delay
/// of the speeds against the positions where that is known, and the ends of the brakes, of which the sharpest
/// decides (docs/method.md, "The receiver"). Four candidates at most stand for all; their weights sum to 1.
/// @param receiver  its rate, noise and lag are known
[[nodiscard]] std::vector<Smoothing> smoothing_posterior(const std::vector<BrakeEnd>& ends,
                                                         const Receiver& receiver);

}  // namespace bothways
