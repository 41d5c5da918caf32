#pragma once

#include "bothways/launch/model.hpp"
#include "bothways/run/detect.hpp"
#include "bothways/speed/series.hpp"

namespace bothways {

/// A start's readings as the launch model takes them, from a few seconds of rest before it to the lift.
/// @param gentle  it may have crept for longer before
[[nodiscard]] LaunchWindow launch_window(const SpeedSeries& series, const StandingStart& start, bool gentle);

}  // namespace bothways
