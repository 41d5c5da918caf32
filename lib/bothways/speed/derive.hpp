#pragma once

#include "bothways/log/log.hpp"
#include "bothways/speed/series.hpp"

namespace bothways {

struct SpeedOptions {
  double gap_s = 0.0;  ///< a longer silence cuts the series; 0: three times the usual step, at least 1.5 s
};

/// Speed against time, with the receiver's noise estimated from the log.
/// Reported speed is used where at least half of the fixes carry it, and only those fixes are used; else
/// speed comes from positions.
/// @return  stretches empty if the log has fewer than two usable fixes; never throws for a damaged log.
/// @throws std::invalid_argument  if gap_s < 0.
[[nodiscard]] SpeedSeries speed_series(const Log& log, const SpeedOptions& options = {});

}  // namespace bothways
