#pragma once

#include "bothways/log/log.hpp"

#include <optional>
#include <vector>

namespace bothways {

/// Upsampling: some applications write rows faster than the receiver gives readings: on straight lines or
/// cubics from one reading, a knot, to the next (interpolation), or on straight lines from the last reading
/// on, which the next one corrects by a jump (extrapolation, dead reckoning).
struct Upsampling {
  double period_s = 1.0;      ///< between readings
  double phase_s = 0.0;       ///< of a reading, from the first fix, 0..period_s
  int degree = 1;             ///< of the pieces between: 1 or 3
  bool extrapolated = false;  ///< only if straight: pieces do not meet, and each begins with a reading
};

/// Finds out whether the speeds of rows were made up between readings: nearly all pieces of a period that
/// gain or lose speed are of that degree within the written step, and those half a period later are not.
/// Nothing for any other log.
/// @param fixes     with speeds, in order of time
/// @param step_mps  of the written speed; 0: finer than matters
[[nodiscard]] std::optional<Upsampling> upsampling_of(const std::vector<const Fix*>& fixes, double step_mps);

/// The readings themselves, one each period that has rows beside it: where pieces meet, with speed and place
/// those of the pieces and all else that of the nearest row; or the first row of each extrapolated piece.
[[nodiscard]] std::vector<Fix> readings_of(const std::vector<const Fix*>& fixes, const Upsampling& upsampling,
                                           double step_mps);

}  // namespace bothways
