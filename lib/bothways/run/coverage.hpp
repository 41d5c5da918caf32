#pragma once

#include "bothways/run/run.hpp"

namespace bothways {

/// By how much intervals widen where the sd of a receiver's noise is itself known to a share only: the
/// two-sided 95 % quantile of Student's t over that of the normal law, eq. (5.6) of docs/method.md, with the
/// degrees of freedom that GUM G.4.2 gives to such a component.
/// @param known_to  relative standard uncertainty of the sd, > 0 and at most 0.5
[[nodiscard]] double coverage_factor(double known_to);

/// The run with all its sds, intervals and shared errors that much wider.
/// @param factor  >= 1
[[nodiscard]] Run widened(Run run, double factor);

}  // namespace bothways
