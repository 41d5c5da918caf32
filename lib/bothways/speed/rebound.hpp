#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>

namespace bothways {

/// How far the speed shown swings back once a brake has brought it down to rest. A tracker with the
/// acceleration in its state goes on falling when the vehicle stands, through zero and back: as a length,
/// that is a travel of a tau^2 where the deceleration a ends sharply, and not much less where it ends within
/// 2 tau. No low pass shows it.
struct Rebound {
  double over_decel_s2 = 0.0;  ///< travel shown after the lowest speed, over the deceleration just before it
  double sd_s2 = 1.0;          ///< of it, > 0; as large as here where the log cannot tell
};

/// @param begin   a row of the brake, near its end
/// @param zero_s  when its straight line comes to rest
[[nodiscard]] Rebound rebound_after(const Stretch& stretch, std::size_t begin, double zero_s);

}  // namespace bothways
