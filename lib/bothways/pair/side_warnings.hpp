#pragma once

#include "bothways/pair/days.hpp"

#include <vector>

namespace bothways {

/// What makes a comparison of two sides doubtful: no-pairs, runs-left-out, other-road, direction-order,
/// other-rate, other-source, other-days, several-days. The words name the sides.
[[nodiscard]] std::vector<Note> side_warnings(const Side& before, const Side& after, const DaysOfSides& days);

}  // namespace bothways
