#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/log/log.hpp"
#include "bothways/speed/series.hpp"
#include "bothways/trip/ridden.hpp"
#include "bothways/trip/trip.hpp"

#include <vector>

namespace bothways {

// The parts of a trip that trip_of() puts together.

/// Highest speed that the smoothed speed did not fall below for so long.
[[nodiscard]] Estimate sustained_mps(const SpeedSeries& series, const Ridden& ridden, double duration_s);

/// Each channel of the log, standing against moving.
[[nodiscard]] std::vector<ChannelSummary> summarise_channels(const Log& log, const SpeedSeries& series,
                                                             const Ridden& ridden);

}  // namespace bothways
