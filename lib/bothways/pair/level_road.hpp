#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"

#include <vector>

namespace bothways {

/// Reads the wind of each day from its runs: a row a day.
[[nodiscard]] Pairs with_winds(const std::vector<Ride>& rides, Pairs pairs);

/// Brings the pairs' times to the level road in still air: takes the square of their winds off, and says what
/// it rests on (docs/method.md, "Level road, still air"). Their intervals are those as ridden.
/// @param pairs  with_winds(), or with those of the same pairs for other splits
[[nodiscard]] Pairs on_level_road(const std::vector<Ride>& rides, Pairs pairs);

}  // namespace bothways
