#pragma once

#include "bothways/core/split_spec.hpp"

#include <vector>

namespace bothways {

/// The splits when none are asked, for starts that reach this speed: two or three marks from rest and one
/// rolling interval, on round numbers of the unit, of which the highest lies at or below it. Slow vehicles
/// are timed to what they reach, fast ones to 60 mph or 100 km/h and beyond.
/// @param reach_mps  speed that the starts reach, m/s; 0, or less than any mark, gives the usual ones of a
///                   small motor vehicle, default_splits()
[[nodiscard]] std::vector<SplitSpec> usual_splits(double reach_mps, bool metric);

}  // namespace bothways
