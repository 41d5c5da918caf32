#pragma once

// pair/ takes runs out and back together, averages pairs, and compares set-ups.

#include "bothways/core/estimate.hpp"
#include "bothways/core/note.hpp"
#include "bothways/core/split_spec.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace bothways {

/// A split averaged over the two directions (docs/method.md, "Two ways").
struct TwoWay {
  SplitSpec spec;
  Estimate rollout;           ///< s, mean of the accelerations at each speed; measurement uncertainty only
  Estimate movement;          ///< s, the same with the clock from first movement
  double plain_mean_s = 0.0;  ///< arithmetic mean of the two rollout times, which people also quote
  double apart = 0.0;         ///< (slower - faster) / mean of the two times, >= 0
  double overlap = 0.0;       ///< road that both runs used for this split, as a share of the shorter, 0..1
};

/// Two runs in opposite directions over the same stretch.
struct Pair {
  int id = 0;                  ///< 1-based, unique within one result
  std::size_t ride = 0;        ///< index of the ride that holds the first run
  std::size_t other_ride = 0;  ///< index of the ride that holds the second
  int first_run = 0;           ///< Run::id, the earlier of the two
  int second_run = 0;          ///< Run::id
  double overlap = 0.0;        ///< shared stretch of all that is timed, as a share of the shorter run, 0..1
  std::vector<TwoWay> splits;  ///< those that both runs reach
  std::vector<Note> notes;     ///< e.g. "partners-apart"
};

/// A run without a partner, and why.
struct Single {
  std::size_t ride = 0;
  int run = 0;       ///< Run::id
  std::string code;  ///< no-position | no-opposite | other-place | no-overlap | odd-one
  std::string text;  ///< one sentence
};

struct Pairs {
  std::vector<Pair> made;      ///< in order of time
  std::vector<Single> single;  ///< in order of time
};

/// A longer pause between pairs starts another day: nobody knows the local midnight.
inline constexpr double day_pause_s = 6 * 3600.0;

/// All pairs of one split taken together.
struct Overall {
  SplitSpec spec;
  int pairs = 0;     ///< n >= 1
  int days = 1;      ///< that they were ridden on
  Estimate rollout;  ///< s, mean of the days' means; scatter of days and pairs, and measurement in it
  Estimate movement;
  double scatter_s = 0.0;  ///< sd between pairs of one day; between days where each has one pair; 0: one pair
  double allowance_s = 0.0;  ///< sd in `rollout` that stands in for the scatter one pair cannot show; else 0
  double allowance_movement_s = 0.0;  ///< the same in `movement`
  double best_one_way_s = 0.0;        ///< quickest single run of those in the pairs, rollout clock
  double best_one_way_movement_s = 0.0;
};

}  // namespace bothways
