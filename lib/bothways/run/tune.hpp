#pragma once

#include "bothways/run/model.hpp"

#include <vector>

namespace bothways {

/// Launch shape, jerk density and white noise that make the readings most likely, over some launches of one
/// vehicle (docs/method.md, "The launch posterior").
void tune(LaunchModel& model, std::vector<LaunchWindow>& windows);

}  // namespace bothways
