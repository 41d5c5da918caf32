#pragma once

#include "bothways/run/ride.hpp"
#include "truth/population/figure.hpp"

#include <cstdint>
#include <vector>

namespace bothways::population {

/// The times of a machine on a level road in still air, s; NaN where it does not come so far.
[[nodiscard]] std::vector<double> level_times_s(const Machine& machine, double air_kg_m3);

/// Holds the starts and runs that the library made of a log against what they truly were, and adds to
/// `judged`.
void judge_runs(const sim::Truth& truth, const Ride& ride, const Device& device, Instant begin,
                const std::vector<SplitSpec>& splits, Judged& judged);

/// Draws ride `index` of the population of `seed`, sends it through the library, and judges it.
[[nodiscard]] Judged judge_ride(Kind kind, std::uint64_t seed, std::uint64_t index);
/// The same ride through a device that is given.
[[nodiscard]] Judged judge_ride(const Device& device, std::uint64_t seed, std::uint64_t index);

/// Draws couple `index`, rides before and after a change, compares them, and judges what is said.
[[nodiscard]] Judged judge_couple(Kind kind, std::uint64_t seed, std::uint64_t index);

}  // namespace bothways::population
