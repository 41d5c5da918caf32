#pragma once

#include "bothways/launch/launch.hpp"

#include <cstdint>
#include <vector>

namespace bothways {

/// A made-up start as the launch model sees it.
struct Start {
  std::vector<Reading> readings;
  LaunchRange range;
};

/// 3 s at rest, then constant acceleration from t0; the length of two noises at rest and in motion. 10 Hz.
[[nodiscard]] Start constant_start(double t0_s, double a_mps2, double sd_mps, std::uint64_t seed);

/// White noise only, and 3 m/s^2 at once.
[[nodiscard]] LaunchModel model_for(double sd_mps);

}  // namespace bothways
