#pragma once

#include "bothways/launch/launch.hpp"

#include <vector>

namespace bothways {

/// Ways in which a vehicle may come to its full acceleration (m/s^2, > 0): at once, after a clutch that
/// creeps, or in an even rise. Invented from how clutches, motors and riders work; the readings choose among
/// them.
[[nodiscard]] std::vector<LaunchShape> full_shapes(double full_mps2);

/// One of each kind among them, for a first look.
[[nodiscard]] std::vector<LaunchShape> plain_shapes(double full_mps2);

/// Shapes of gentle starts: those of full throttle, and vehicles that creep for a second or two before their
/// driver gives throttle, as cars do whose brake is released first.
[[nodiscard]] std::vector<LaunchShape> gentle_shapes(double full_mps2);

/// Those among them that creep for a second and more.
[[nodiscard]] std::vector<LaunchShape> creeping_shapes(double full_mps2);

}  // namespace bothways
