#pragma once

#include "bothways/core/geodesy.hpp"
#include "bothways/log/log.hpp"

#include <vector>

namespace bothways {

/// For a log of positions alone: takes out fixes that the receiver itself calls bad, and says before which of
/// those left the position jumped or one was taken out (OutlierLimits): nothing is timed across either.
/// @param fixes         all with a position, in order of time
/// @param usual_step_s  from fix to fix, > 0
[[nodiscard]] std::vector<bool> take_out_jumps(std::vector<const Fix*>& fixes, const LocalPlane& plane,
                                               double usual_step_s);

}  // namespace bothways
