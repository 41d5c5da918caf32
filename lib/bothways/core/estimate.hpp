#pragma once

namespace bothways {

/// Half of the 95 % interval of a normal law, in its sd.
inline constexpr double half95 = 1.96;

/// A measured figure and its uncertainty. No split, mean or difference exists without one.
struct Estimate {
  double value = 0.0;  ///< best value: the mean of what is believed
  double sd = 0.0;     ///< standard deviation, same unit, >= 0
  double lo95 = 0.0;   ///< lower end of the 95 % interval
  double hi95 = 0.0;   ///< upper end of the 95 % interval; the interval need not be symmetric
};

/// A normal estimate: value +- 1.96 sd.
/// @throws std::invalid_argument  if a figure is not finite or sd < 0.
[[nodiscard]] Estimate normal_estimate(double value, double sd);

}  // namespace bothways
