#pragma once

#include "bothways/run/ride.hpp"
#include "truth/population/figure.hpp"

#include <cstdint>
#include <vector>

namespace bothways::population {

/// When rides begin: 2026-05-04T09:30:00Z.
inline constexpr Instant morning{1'777'887'000'000'000};

/// The times of a machine on a level road in still air, s; NaN where it does not come so far.
[[nodiscard]] std::vector<double> level_times_s(const Machine& machine, double air_kg_m3);

/// Holds the starts and runs that the library made of a log against what they truly were, and adds to
/// `judged`.
void judge_runs(const sim::Truth& truth, const Ride& ride, const Device& device, Instant begin,
                const std::vector<SplitSpec>& splits, Judged& judged);

/// A ride of the population and its log.
struct RiddenLog {
  Device device;
  Machine machine;
  sim::Road road;
  Weather weather;
  sim::Truth truth;
  Log log;
};

/// Draws ride `index` of the population of `seed` and records it, on a device drawn for it or given.
[[nodiscard]] RiddenLog ride_and_record(Kind kind, std::uint64_t seed, std::uint64_t index);
[[nodiscard]] RiddenLog ride_and_record(const Device& device, std::uint64_t seed, std::uint64_t index);
/// Sends a log through the library and judges what comes out.
/// What the conditions say of the vehicle.
struct Said {
  bool kind = false;  ///< of an electric one, what it looks like
  bool mass = false;  ///< vehicle and rider have been weighed
};

[[nodiscard]] Judged judge(const RiddenLog& ridden, Said said = {});

/// Draws couple `index`, rides before and after a change, compares them, and judges what is said.
[[nodiscard]] Judged judge_couple(Kind kind, std::uint64_t seed, std::uint64_t index);

}  // namespace bothways::population
