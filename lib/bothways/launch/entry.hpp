#pragma once

#include "bothways/launch/backward_pass.hpp"
#include "bothways/launch/hypothesis.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// A launch at t0 on the time grid of a backward pass: how it enters it, and what its shape expects there.
struct LaunchEntry {
  numeric::Gaussian prior;      ///< the state at t0, given the readings before: travel, speed and y are 0 for
                                ///< sure, a is round the shape's, e is what the filter at rest has left of it
  double log_likelihood = 0.0;  ///< of those readings
  numeric::Transition step;     ///< from t0 to the first time of the grid after it
  std::size_t first = 0;        ///< that time
  std::vector<double> jerk;     ///< expected over the step that ends at time first + i, m/s^3; later 0
};
[[nodiscard]] LaunchEntry launch_entry(const BackwardPass& pass, const LaunchShape& shape, double t0_s);

/// Jerk that the shape of a launch expects over the step that ends at time k >= first, m/s^3.
[[nodiscard]] double expected_jerk(const LaunchEntry& entry, std::size_t k);

/// Information at the times from `from` >= first and linear_from to the end of the shape.
[[nodiscard]] std::vector<numeric::Information> information_with_shape(const BackwardPass& pass,
                                                                       const LaunchEntry& entry,
                                                                       std::size_t from);

}  // namespace bothways
