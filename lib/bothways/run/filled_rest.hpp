#pragma once

#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

inline constexpr double rise_mps = 2.5;  // less is no start: paddling, rocking

/// In the rows of filled_rest(): noise within a rest.
inline constexpr char kicked = 2;

/// What is at rest, and what reads otherwise though the vehicle stood: a burst of noise between two readings
/// at rest, and, in slow logs, a low speed that lasts. Such a burst is `kicked`: the launch model is not to
/// take it for the noise at rest.
/// @return     (n) 0 in motion, 1 at rest, `kicked`
/// @param unsure_mps  speeds below it may be noise at rest; 0: none
[[nodiscard]] std::vector<char> filled_rest(const Stretch& s, double unsure_mps);

}  // namespace bothways
