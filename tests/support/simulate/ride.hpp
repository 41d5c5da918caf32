#pragma once

#include "support/simulate/road.hpp"
#include "support/simulate/script.hpp"
#include "support/simulate/truth.hpp"
#include "support/simulate/vehicle.hpp"

#include <cstdint>

namespace bothways::sim {

/// How much one start differs from the next; relative sd of each.
struct Scatter {
  double force = 0.0;   ///< of pull and power
  double launch = 0.0;  ///< of the duration of the launch
  double gap = 0.0;     ///< of the gear-change gaps
};

/// Rides the script and keeps everything. Integrated with Runge-Kutta 4, steps of 1 ms at launches and gear
/// changes, 4-10 ms elsewhere (test "the simulator agrees with quadrature"). Same input, same ride.
[[nodiscard]] Truth ride(const Vehicle& vehicle, const Road& road, const Script& script,
                         std::uint64_t seed = 1, const Scatter& scatter = {});

/// Travel of a standing start at full throttle to top_mps on a level road, m.
[[nodiscard]] double run_length_m(const Vehicle& vehicle, double top_mps);

}  // namespace bothways::sim
