#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"

#include <vector>

namespace bothways {

/// Brings the pairs' times to the level road in still air: reads the wind of each day from its runs, takes
/// its square off, and gives every time an interval that holds what slope, wind, gusts, starts and the day
/// may leave (docs/method.md, "Level road, still air").
[[nodiscard]] Pairs on_level_road(const std::vector<Ride>& rides, Pairs pairs);

/// The same with the winds that the pairs already have, a row a day: for other splits of the same runs.
[[nodiscard]] Pairs with_known_winds(const std::vector<Ride>& rides, Pairs pairs);

}  // namespace bothways
