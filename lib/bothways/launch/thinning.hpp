#pragma once

#include "bothways/launch/window.hpp"

namespace bothways {

/// A window whose readings, once the launch is over, are averaged to about ten a second: over so short a time
/// a speed is a straight line, so they say the same of the motion and cost less (a run at 25 Hz: a third of
/// the time; tests/bench/launch_bench.cpp).
[[nodiscard]] LaunchWindow thinned(const LaunchWindow& window);

}  // namespace bothways
