#pragma once

#include "bothways/trip/trip.hpp"
#include "support/simulate/truth.hpp"

#include <cstdint>

/// Lights, two runs each way, and a way home of some length.
[[nodiscard]] bothways::sim::Truth lights_and_runs(std::uint64_t seed, double home_m = 0.0);

[[nodiscard]] bothways::Trip trip_in(const bothways::Log& log);
