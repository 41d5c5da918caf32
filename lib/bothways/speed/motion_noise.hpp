#pragma once

#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// Faster, a vehicle surely moves.
inline constexpr double moving_mps = 3.0;

/// White noise of speed readings while the vehicle accelerates or brakes, m/s: where runs are timed, and
/// where it may be twice that of steady riding; 0 where there is too little of it or the log is too slow to
/// tell.
[[nodiscard]] double white_noise_in_motion(const std::vector<Stretch>& stretches, double rate_hz);

/// Slow noise of speed readings in motion, m/s: what mean speeds over a second differ by from the distance
/// between positions, less a lag, what the positions wander at rest, and the white part. Positions that
/// wander in motion only make it too large, never too small. 0 where there are no positions, too little
/// straight riding, or no clear excess.
/// @param white_sd_mps  of the readings
/// @param rest_mps      below it a reading may be one at rest
[[nodiscard]] double slow_noise_in_motion(const std::vector<Stretch>& stretches, double rate_hz,
                                          double white_sd_mps, double rest_mps);

}  // namespace bothways
