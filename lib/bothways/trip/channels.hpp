#pragma once

#include "bothways/log/log.hpp"
#include "bothways/speed/series.hpp"
#include "bothways/trip/samples.hpp"
#include "bothways/trip/trip.hpp"

#include <vector>

namespace bothways {

/// Each channel of the log, standing against moving.
[[nodiscard]] std::vector<ChannelSummary> summarise_channels(const Log& log, const SpeedSeries& series,
                                                             const ValidSamples& samples);

}  // namespace bothways
