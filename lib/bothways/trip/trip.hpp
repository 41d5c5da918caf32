#pragma once

// The stage trip/ adds up what was ridden in a log: distance, time moving and standing, stops, sustained
// speeds, climb, and the further channels.

#include "bothways/core/estimate.hpp"
#include "bothways/core/note.hpp"
#include "bothways/core/time.hpp"
#include "bothways/log/log.hpp"
#include "bothways/speed/series.hpp"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace bothways {

/// Values of a channel in one state of the vehicle; n = 0: there were none, and the rest means nothing.
struct ChannelSpread {
  std::size_t n = 0;
  double min = 0.0;
  double median = 0.0;
  double max = 0.0;
};

/// A further column of a CSV log (battery, temperature), standing against moving.
struct ChannelSummary {
  std::string name;
  ChannelSpread standing;
  ChannelSpread moving;
  /// Change from the first value to the last by a robust slope; unknown below two minutes of values.
  Estimate drift{unknown, unknown, unknown, unknown};
  double drift_per_h = unknown;  ///< the same an hour; unknown below half an hour of values
};

/// What was ridden in one log.
struct Trip {
  std::string path;
  bool dated = true;
  Instant first;  ///< of the fixes
  Instant last;
  std::size_t readings = 0;  ///< of speed that were used
  SpeedSource source = SpeedSource::reported;
  Estimate distance_m;     ///< ridden, gaps bridged, travel while standing left out
  double bridged_m = 0.0;  ///< of it: across gaps, straight on
  std::size_t gaps_bridged = 0;
  std::size_t gaps_open = 0;  ///< gaps across which nothing is counted
  double moving_s = 0.0;
  double stopped_s = 0.0;
  double unlogged_s = 0.0;    ///< in open gaps
  std::size_t stops = 0;      ///< of 3 s or more, between two times of riding
  double rest_mps = 0.0;      ///< below this the vehicle is taken to stand
  Estimate sustained_1s_mps;  ///< highest speed held for 1 s; all 0 where none was
  Estimate sustained_5s_mps;
  double town_m = 0.0;  ///< ridden between two stops less than 1 km apart
  double open_m = 0.0;  ///< the rest
  /// Sum of the rises between turns; unknown without steady heights.
  Estimate climb_m{unknown, unknown, unknown, unknown};
  double climb_turn_m = 0.0;  ///< so much is a turn: 5 m, or as far as heights wander while standing
  std::vector<ChannelSummary> channels;
  std::vector<Note> notes;  ///< wild-speed | no-speed | unsteady-heights

  [[nodiscard]] double average_moving_mps() const {
    return moving_s > 0.0 ? distance_m.value / moving_s : 0.0;
  }
};

/// Adds up a ride: distance, time, stops, sustained speeds, climb, channels (docs/method.md, "The trip").
///
/// Distance is the valid speed over time while moving. A gap, outliers too, is bridged: by the straight line
/// between its ends if that is a likely speed and it lasts at most 10 minutes, else by the speeds at its ends
/// if it lasts at most 15 s; else nothing is counted. Sustained speed is the highest that the smoothed speed
/// (mean over 1 s) did not fall below for so long. Climb: see climb.hpp. Limits: common practice, no source.
/// Never throws for a damaged log; O(n log n) time. Accuracy: tests "distance, time and stops agree with the
/// simulated truth".
[[nodiscard]] Trip trip_of(const Log& log, const SpeedSeries& series);

/// Several logs as one ride: sums, and the highest of the speeds. Channels and notes are left out.
[[nodiscard]] Trip all_of(std::span<const Trip> trips);

/// Fuel used over a distance.
struct Consumption {
  double fuel_l = 0.0;
  double distance_m = 0.0;
  Estimate l_per_100km;  ///< unknown over less than least_consumption_m, as the next two
  Estimate mpg_us;       ///< miles a US gallon
  Estimate mpg_imp;      ///< miles an imperial gallon
};

/// Over less, how full the tank was filled decides more than the ride; common practice, no source.
inline constexpr double least_consumption_m = 10'000.0;

/// @param fuel_l    > 0; taken as exact
/// @param distance  value > 0; its uncertainty is carried on
/// @throws std::invalid_argument  if not above 0.
/// Check: 49.9 mi on 1.153 US gal is 43.28 mpg (US) (common practice, no source).
[[nodiscard]] Consumption consumption_of(double fuel_l, const Estimate& distance_m);

}  // namespace bothways
