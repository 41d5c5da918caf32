#pragma once

#include "bothways/speed/series.hpp"

namespace bothways {

struct Lag {
  double lag_s = 0.0;  ///< how much later the speed shows the motion than the positions do
  double sd_s = 0.0;   ///< 0 if the log cannot tell
  int events = 0;      ///< accelerations and brakings used
};

/// Compares the distance between positions with the integral of the reported speed, over straight
/// accelerations and brakings: distance - integral = lag x (change of speed). Positions that lag alike hide
/// the lag.
[[nodiscard]] Lag estimate_lag(const SpeedSeries& series);

}  // namespace bothways
