#pragma once

#include "truth/population/tables.hpp"

#include <functional>
#include <string>
#include <vector>

namespace bothways::population {

/// One habit of receivers alone, put on one that has none: which of them breaks which figure?
struct Habit {
  std::string name;
  std::function<void(Device&)> put_on;
  bool speed_only = false;  ///< of no account where only positions are logged
};

/// The first one is none at all.
[[nodiscard]] const std::vector<Habit>& habits();

/// White noise alike at rest and in motion, no smoothing, no delay, exact figures: 0.05 m/s at 10 and 5 Hz, a
/// phone 0.15 m/s; of positions 1 cm, and they wander by 0.02 m/s, those of a phone by 0.15 m/s.
[[nodiscard]] Device plain_device(Kind kind);

/// Runs by habit: found, taken, and for each split coverage, bias and half width.
/// @param judged  [habit][ride]
[[nodiscard]] Table habits_table(Kind kind, const std::vector<std::vector<Judged>>& judged);

}  // namespace bothways::population
