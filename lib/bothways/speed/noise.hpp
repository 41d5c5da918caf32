#pragma once

#include "bothways/log/log.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// What the readings say of the receiver: white and slow noise, resolution, zero-hold (docs/method.md,
/// "The receiver"). Spikes and excursions must already be marked.
[[nodiscard]] Receiver estimate_receiver(const std::vector<Stretch>& stretches, const Log& log,
                                         double rate_hz);

}  // namespace bothways
