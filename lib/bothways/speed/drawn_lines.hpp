#pragma once

#include "bothways/log/log.hpp"

#include <optional>
#include <vector>

namespace bothways {

/// Some applications write rows faster than the receiver gives readings, on straight lines between these.
struct DrawnLines {
  double period_s = 1.0;  ///< between the readings
  double phase_s = 0.0;   ///< of a reading, from the first fix, 0..period_s
};

/// Finds out whether speeds are drawn so: nearly all stretches of a period that gain or lose speed are
/// straight within the written step, and those half a period later are not. Nothing for any other log.
/// @param fixes     with speeds, in order of time
/// @param step_mps  of the written speed; 0: finer than matters
[[nodiscard]] std::optional<DrawnLines> drawn_lines(const std::vector<const Fix*>& fixes, double step_mps);

/// The readings themselves: where the lines meet, one each period that has rows beside it. Speed and place
/// are those of the lines, all else that of the nearest row.
[[nodiscard]] std::vector<Fix> readings_between_lines(const std::vector<const Fix*>& fixes,
                                                      const DrawnLines& lines, double step_mps);

}  // namespace bothways
