#pragma once

#include "bothways/core/geodesy.hpp"
#include "bothways/log/log.hpp"

#include <vector>

namespace bothways {

/// Before which fixes the clock of the log stepped forward in motion: places went on as within a usual step,
/// though in the time stamped the vehicle would have come further, however it had braked. Nothing is timed
/// across.
/// @param fixes         with speeds, in order of time; those without places say nothing
/// @param usual_step_s  from fix to fix, > 0
/// @return              (n), or empty where it never did
[[nodiscard]] std::vector<bool> clock_steps(const std::vector<const Fix*>& fixes, const LocalPlane& plane,
                                            double usual_step_s);

}  // namespace bothways
