#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/log/log.hpp"
#include "bothways/run/ridden.hpp"
#include "bothways/run/trip.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

// The parts of a trip that trip_of() puts together.

/// Highest speed that the smoothed speed did not fall below for so long.
[[nodiscard]] Estimate sustained_mps(const SpeedSeries& series, const Ridden& ridden, double duration_s);

/// Sum of rises, and the height that counts as one.
struct Climb {
  double climb_m = unknown;  ///< unknown where fewer than one in twenty moving rows has a height
  double turn_m = 0.0;       ///< 5 m, or as far as heights wander while standing
};
[[nodiscard]] Climb climb_of(const SpeedSeries& series, const Ridden& ridden);

/// Each channel of the log, standing against moving.
[[nodiscard]] std::vector<ChannelSummary> summarise_channels(const Log& log, const SpeedSeries& series,
                                                             const Ridden& ridden);

}  // namespace bothways
