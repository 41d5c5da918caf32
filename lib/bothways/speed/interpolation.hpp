#pragma once

#include "bothways/log/log.hpp"

#include <optional>
#include <vector>

namespace bothways {

/// Linear interpolation: some applications write rows faster than the receiver gives readings, on straight
/// lines between these, the knots.
struct Interpolation {
  double period_s = 1.0;  ///< between knots
  double phase_s = 0.0;   ///< of a knot, from the first fix, 0..period_s
};

/// Finds out whether speeds are interpolated: nearly all stretches of a period that gain or lose speed are
/// straight within the written step, and those half a period later are not. Nothing for any other log.
/// @param fixes     with speeds, in order of time
/// @param step_mps  of the written speed; 0: finer than matters
[[nodiscard]] std::optional<Interpolation> interpolation_of(const std::vector<const Fix*>& fixes,
                                                            double step_mps);

/// The readings themselves, at the knots, where the lines meet, one each period that has rows beside it.
/// Speed and place are those of the lines, all else that of the nearest row.
[[nodiscard]] std::vector<Fix> readings_at_knots(const std::vector<const Fix*>& fixes,
                                                 const Interpolation& lines, double step_mps);

}  // namespace bothways
