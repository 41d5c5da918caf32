#pragma once

// report/ writes what the stages made: as records for programs (CSV, JSON) and in words for people.

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"

#include <string>
#include <vector>

namespace bothways {

/// All that one call of the program found: what the report stage writes.
struct Result {
  Clock clock = Clock::rollout;   ///< the clock asked for; it decides which times come first
  bool metric = false;            ///< speeds in km/h, else mph
  std::vector<SplitSpec> splits;  ///< in the order asked
  bool marks_chosen = false;      ///< nobody asked: the splits follow from what the starts reach
  bool places = true;             ///< records tell places and times of day; else days only
  std::vector<Ride> rides;        ///< run ids unique over all rides
  Pairs pairs;
  std::vector<Overall> overall;
};

/// A run and the ride that holds it.
struct RunPlace {
  const Ride* ride = nullptr;
  const Run* run = nullptr;
};

/// The run with this id. @throws std::invalid_argument  if there is none.
[[nodiscard]] RunPlace find_run(const Result& result, int id);

/// Id of the pair that a run belongs to, 0 if none.
[[nodiscard]] int pair_of(const Result& result, int run_id);

/// The time of the clock asked for.
[[nodiscard]] inline const Estimate& chosen(const Split& split, Clock clock) {
  return clock == Clock::rollout ? split.rollout : split.movement;
}
[[nodiscard]] inline const Estimate& chosen(const TwoWay& split, Clock clock) {
  return clock == Clock::rollout ? split.rollout : split.movement;
}
[[nodiscard]] inline const Estimate& chosen(const Overall& row, Clock clock) {
  return clock == Clock::rollout ? row.rollout : row.movement;
}
[[nodiscard]] inline double best_one_way_s(const Overall& row, Clock clock) {
  return clock == Clock::rollout ? row.best_one_way_s : row.best_one_way_movement_s;
}

/// Arithmetic mean of the two runs' times of one split by the clock asked for, s.
[[nodiscard]] double plain_mean_s(const Result& result, const Pair& pair, const TwoWay& split);

/// The lowest mark from rest that was asked for, which a run has to reach: "30 mph", "60 ft"; speeds go
/// before distances. Empty if no split is from rest.
[[nodiscard]] std::string lowest_mark(const std::vector<SplitSpec>& splits);

/// Direction of travel, or unknown where the log has no positions to tell it by.
[[nodiscard]] inline double heading_deg(const Run& run) {
  return is_known(run.start.lat_deg) ? run.heading_deg : unknown;
}

/// "; 30-50 mph from mark to mark", if such a split was asked for; else empty.
[[nodiscard]] std::string rolling_words(const Result& result);

/// One sentence if rides with runs carry conditions of different set-ups, which the overall result would mix;
/// empty if not.
[[nodiscard]] std::string mixed_setups_words(const Result& result);

/// The rides that hold the runs of the pairs with this split, one of each pair after the other.
[[nodiscard]] std::vector<const Ride*> rides_with_pairs(const Result& result, const SplitSpec& spec);

/// Number of runs in all rides.
[[nodiscard]] std::size_t count_runs(const std::vector<Ride>& rides);

}  // namespace bothways
