#pragma once

#include "support/simulate/ride.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace bothways::truth {

/// A vehicle on a road; its rides are drawn one after another.
struct Scenario {
  std::string name;
  sim::Vehicle vehicle;
  sim::Road road;
  sim::Scatter scatter{.force = 0.01, .launch = 0.1, .gap = 0.1};
  std::optional<sim::Truth> profile;  ///< a measured ride instead: always the same, seen by other receivers
  std::string splits = "0-30 mph, 0-50 mph, 30-50 mph, 60 ft";
  bool include_gentle = false;
};

/// All scenarios. Those from measured profiles are there only if ../shared/data/profiles is.
[[nodiscard]] std::vector<Scenario> scenarios();

/// Without scatter all starts are alike, and a level road has one truth. Not where the slope bends: the first
/// metres from one end are other metres than the first from the other end.
[[nodiscard]] bool has_flat_truth(const Scenario& scenario);

/// Starts out and back on a level road in the scenario's mean wind, without gusts: the first two of the ride.
/// The part of the wind that is the same both ways (its square) stays in: no pairing can take it out.
[[nodiscard]] sim::Truth flat_ride(const Scenario& scenario);

/// Ride `index` of a scenario: some traffic, a jab, a rolling start, an aborted start, then 6-12 standing
/// starts out and back with 8-30 s at rest before each, and a traffic light on the way home.
[[nodiscard]] sim::Truth draw_ride(const Scenario& scenario, std::uint64_t index);

}  // namespace bothways::truth
