#pragma once

#include "support/simulate/receiver.hpp"
#include "support/simulate/ride.hpp"

#include <cstdint>

namespace bothways {

/// Six standing starts of a scooter to 52 mph, out and back, with stops of 12 s between.
[[nodiscard]] const sim::Truth& six_starts();

/// Those starts as a receiver would log them.
[[nodiscard]] Log logged(const sim::ReceiverModel& model, std::uint64_t seed);

}  // namespace bothways
