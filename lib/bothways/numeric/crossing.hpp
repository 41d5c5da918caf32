#pragma once

#include <optional>

namespace bothways::numeric {

/// A cubic between two points with given slopes.
struct Cubic {
  double t0 = 0.0;
  double t1 = 1.0;  ///< > t0
  double y0 = 0.0;
  double y1 = 0.0;
  double slope0 = 0.0;
  double slope1 = 0.0;

  [[nodiscard]] double value(double t) const;
  [[nodiscard]] double slope(double t) const;
};

/// First t in [t0, t1] at which the cubic reaches the level from below, if y0 < level <= y1. To 1e-9 of the
/// span.
[[nodiscard]] std::optional<double> rising_crossing(const Cubic& cubic, double level);

}  // namespace bothways::numeric
