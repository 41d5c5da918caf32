#pragma once

#include "bothways/speed/series.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace bothways {

/// Speeds shown at which a departure is looked at, m/s.
inline constexpr std::array<double, 8> departure_levels_mps{1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 10.0, 12.0};

/// How far the speeds of a start from rest are behind its places: D(z) of eq. (1.9).
struct Departure {
  std::array<double, departure_levels_mps.size()> missing_m{};  ///< way from the standing place - integral of
                                                                ///< the speed, when each level is shown first
  std::size_t levels = 0;                                       ///< so many were reached, 6 at least
};

/// Departures from a rest of a second or more along a straight line, full throttle or not, that show 8 m/s
/// within 10 s.
/// @param receiver  its hold is known
/// @param rest_mps  a speed below it may be of a vehicle at rest
[[nodiscard]] std::vector<Departure> departures(const std::vector<Stretch>& stretches,
                                                const Receiver& receiver, double rest_mps);

}  // namespace bothways
