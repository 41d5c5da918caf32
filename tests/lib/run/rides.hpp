#pragma once

#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "support/simulate/receiver.hpp"
#include "support/simulate/ride.hpp"
#include "support/simulate/script.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace bothways {

/// When simulated rides begin.
inline constexpr Instant ride_begin{1'777'887'000'000'000};

/// Standing starts to top_mph, out and back, with 12 s at rest before each.
[[nodiscard]] sim::Script starts(int count, double top_mph, const sim::Vehicle& vehicle = sim::scooter());

/// Four starts of a scooter to 53 mph at a good 10 Hz logger (noise 0.05 m/s, half of it slow).
struct FourStarts {
  sim::Truth truth;
  Log log;
};
[[nodiscard]] const FourStarts& four_starts();

[[nodiscard]] Runs runs_of(const Log& log,
                           const std::string& splits = "0-30 mph, 0-40 mph, 0-50 mph, 30-50 mph",
                           bool include_gentle = false);

/// The split of that name, or nullptr.
[[nodiscard]] const Split* split_named(const Run& run, const std::string& name);

/// The true start nearest to a run's movement, within 3 s; nullptr if there is none.
[[nodiscard]] const sim::TrueStart* true_start_of(const sim::Truth& truth, const Run& run);

/// The fixes between two times of the ride, s, left out.
[[nodiscard]] Log without(Log log, double from_s, double to_s);

}  // namespace bothways
