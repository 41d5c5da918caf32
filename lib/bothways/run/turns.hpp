#pragma once

#include "bothways/run/ride.hpp"

#include <span>
#include <string>

namespace bothways {

/// Numbers the turns of rides: a turn ends where, in order of time, the set-up changes, between logs or
/// within one. What is ridden in turns, ABAB, has a turn for each letter. Rides without a run do not part
/// turns, and stay 0, as do those whose set-up is not known; without dates the turns of several logs cannot
/// be told, and stay 0 too.
/// @param setups  (rides) the set-up of each; empty: not known
void number_turns(std::span<Ride> rides, std::span<const std::string> setups);

/// The set-up that the conditions of a ride name; empty: not told.
[[nodiscard]] std::string setup_of(const Ride& ride);

}  // namespace bothways
