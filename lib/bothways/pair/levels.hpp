#pragma once

#include "bothways/pair/combine.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace bothways {

/// One two-way result of a side.
struct Outcome {
  double value = 0.0;        ///< s
  double measurement = 0.0;  ///< its sd, s
  int day = 0;               ///< outcomes of one day share weather and rider
};

/// A side's figure and where its uncertainty comes from, level by level. All sds are of the figure.
struct Leveled {
  double value = 0.0;         ///< mean of the days' means
  Part day;                   ///< scatter of days beyond that of pairs; sd 0 for one day
  Part pair;                  ///< scatter of pairs within a day beyond measurement; sd 0 for one pair a day
  double measurement = 0.0;   ///< sd from measurement alone
  double pair_scatter = 0.0;  ///< sd between single pairs of one day, measurement in it; 0 if not known
  double pair_degrees_of_freedom = 0.0;  ///< of pair_scatter; 0: not known
  int pairs = 0;
  int days = 0;
};

/// Variance by levels: day, pair, measurement. Each day weighs the same.
/// @param outcomes  (n >= 1)
[[nodiscard]] Leveled leveled(std::span<const Outcome> outcomes);

/// after - before. Where both sides were ridden on the same days, each day's difference is the unit, so that
/// what a day does to both drops out; else each side brings the scatter of its own days.
struct LeveledDifference {
  double value = 0.0;
  std::vector<Part> parts;  ///< day, pair, measurement; Welch and Satterthwaite within a level
  bool same_days = false;   ///< two days or more, the same on both sides
};

[[nodiscard]] LeveledDifference leveled_difference(std::span<const Outcome> before,
                                                   std::span<const Outcome> after);

}  // namespace bothways
