#pragma once

namespace bothways {

/// A measured figure and its doubt. No split, mean or difference exists without one.
struct Estimate {
  double value = 0.0;  ///< best value: the mean of what is believed
  double sd = 0.0;     ///< standard deviation, same unit, >= 0
  double lo95 = 0.0;   ///< lower end of the 95 % interval
  double hi95 = 0.0;   ///< upper end of the 95 % interval; the interval need not be symmetric
};

/// A normal estimate: value +- 1.96 sd.
/// @throws std::invalid_argument  if a figure is not finite or sd < 0.
[[nodiscard]] Estimate normal_estimate(double value, double sd);

/// value +- t(0.975, degrees_of_freedom) sd, after [GUM] G.3.
/// @param degrees_of_freedom  > 0; infinity gives the normal interval.
/// @throws std::invalid_argument  if a figure is not finite, sd < 0 or degrees_of_freedom <= 0.
[[nodiscard]] Estimate student_estimate(double value, double sd, double degrees_of_freedom);

/// Two-sided 95 % Student quantile, t(0.975, nu). nu > 0, infinity allowed.
[[nodiscard]] double student_t95(double degrees_of_freedom);

}  // namespace bothways
