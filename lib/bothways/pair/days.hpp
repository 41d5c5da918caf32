#pragma once

#include "bothways/pair/compare.hpp"

#include <vector>

namespace bothways {

/// Which day each pair of two sides was ridden on: the same number, the same day.
struct DaysOfSides {
  std::vector<int> before;  ///< (pairs of before)
  std::vector<int> after;   ///< (pairs of after)
};

/// A day ends with a pause of more than `pause_s`, since nobody knows the local midnight. Each log without a
/// date is a day of its own.
[[nodiscard]] DaysOfSides days_of_sides(const Side& before, const Side& after, double pause_s);

/// The same for the pairs of one set of rides.
[[nodiscard]] std::vector<int> days_of_pairs(const std::vector<Ride>& rides, const Pairs& pairs,
                                             double pause_s);

/// The first or second run of a pair. @throws std::invalid_argument  if the rides do not hold it.
[[nodiscard]] const Run& run_of_pair(const std::vector<Ride>& rides, const Pair& pair, bool first);

}  // namespace bothways
