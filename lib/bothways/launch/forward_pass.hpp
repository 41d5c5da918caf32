#pragma once

#include "bothways/launch/backward_pass.hpp"
#include "bothways/launch/hypothesis.hpp"

namespace bothways {

/// The state at first movement t0, given the readings before: travel, speed and y are 0 for sure, a is round
/// the shape's, e is what the filter at rest has left of it.
[[nodiscard]] numeric::Gaussian launch_prior(const BackwardPass& pass, const LaunchShape& shape, double t0_s);

/// From the launch to the first time after it.
[[nodiscard]] numeric::Transition transition_from_launch(const BackwardPass& pass, double t0_s);

/// log p(all readings | launch at t0): those before it at rest; those near rest by a forward filter that
/// takes them as lengths or left-censored; later ones by the backward pass (docs/method.md, "Near rest"). A
/// finite number, however impossible the readings.
[[nodiscard]] double launch_log_likelihood(const BackwardPass& pass, const LaunchShape& shape, double t0_s);

}  // namespace bothways
