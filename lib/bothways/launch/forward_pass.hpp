#pragma once

#include "bothways/launch/entry.hpp"

#include <optional>
#include <vector>

namespace bothways {

/// The forward filter over the readings near rest after a launch, which it takes as lengths or left-censored,
/// matching moments (docs/method.md, "Near rest").
struct ForwardPass {
  double log_likelihood = 0.0;  ///< of the readings so far, those before the launch at rest
  numeric::Gaussian state;      ///< predicted, at the time where the backward pass begins to hold, or at the
                                ///< first time after the launch if that is later
  /// (from the first time after the launch on) what each reading says, as a measurement with the same effect
  /// on a normal law: its variance is 1/r = 1/S' - 1/S. Nothing where it says nothing.
  std::vector<std::optional<numeric::Measurement>> site;
};
[[nodiscard]] ForwardPass forward_pass(const BackwardPass& pass, const LaunchEntry& entry);

/// log p(all readings | launch at t0): forward and backward pass together. A finite number, however
/// impossible the readings.
[[nodiscard]] double launch_log_likelihood(const BackwardPass& pass, const LaunchShape& shape, double t0_s);

}  // namespace bothways
