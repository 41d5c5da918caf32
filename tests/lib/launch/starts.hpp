#pragma once

#include "bothways/launch/hypothesis.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/window.hpp"

#include <cstdint>
#include <functional>

namespace bothways {

/// A made-up start as the launch model sees it: 3 s at rest and 4 s of motion at 10 Hz; readings are the
/// length of two noises. `v_mps` gives the true speed at a time.
[[nodiscard]] LaunchWindow start_of(const std::function<double(double)>& v_mps, double sd_mps,
                                    std::uint64_t seed);

/// Constant acceleration from t0.
[[nodiscard]] LaunchWindow constant_start(double t0_s, double a_mps2, double sd_mps, std::uint64_t seed);

/// White noise only.
[[nodiscard]] LaunchModel model_for(double sd_mps);

/// 3 m/s^2 at once.
[[nodiscard]] LaunchHypothesis at_once();

}  // namespace bothways
