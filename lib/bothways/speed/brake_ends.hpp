#pragma once

#include "bothways/speed/rebound.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// How one brake to rest ended in the readings.
struct BrakeEnd {
  double spread_s2 = 0.0;   ///< 2 x travel beyond the straight line to rest, over the deceleration, s^2
  double sd_s2 = 0.0;       ///< of it, > 0
  double decel_mps2 = 2.0;  ///< of the straight line, > 0
  Rebound rebound;
};

/// The ends of all brakes to rest. A speed that falls by a and ends sharply, seen through a kernel whose
/// delays vary by a variance s^2, shows a s^2 / 2 of travel beyond the straight line: s is the time constant
/// of smoothing of first order, and a delay alone shows nothing. The driver's own taper adds to it.
[[nodiscard]] std::vector<BrakeEnd> brake_ends(const std::vector<Stretch>& stretches,
                                               const Receiver& receiver, double rest_mps);

}  // namespace bothways
