#pragma once

// pair/ takes runs out and back together, averages pairs, and compares set-ups.

#include "bothways/core/estimate.hpp"
#include "bothways/core/note.hpp"
#include "bothways/core/split_spec.hpp"

#include <cstddef>
#include <string>
#include <vector>

namespace bothways {

/// What the uncertainty of a two-way figure is made of, sds in s (docs/method.md, "The budget").
struct Budget {
  double receiver = 0.0;  ///< errors of each run's own
  double launch = 0.0;    ///< errors of receiver and launch that the runs of a log share
  double scatter = 0.0;   ///< how pairs differ: starts, gusts
  double block = 0.0;     ///< what changes within a day: warmth, tank, the hour's wind
  double day = 0.0;       ///< what changes from day to day
  double slope = 0.0;     ///< a slope that changes along the road
  double wind = 0.0;      ///< the square of the wind along and across, as far as it is not known
};

/// One component by name: "receiver", "launch", "scatter", "block", "day", "slope", "wind".
struct BudgetRow {
  const char* code = "";
  double sd_s = 0.0;
};

/// All components, in the order of the struct.
[[nodiscard]] std::vector<BudgetRow> budget_rows(const Budget& budget);

/// A band of speed of a pair's mean curve, and what a change of acceleration in it does to a split's time.
struct SensitiveBand {
  double v_mps = 0.0;             ///< middle of the band
  double a_mps2 = 0.0;            ///< mean of the two runs
  double out_s_m = 0.0;           ///< travel of the first run in its middle
  double back_s_m = 0.0;          ///< of the second
  double seconds_per_mps2 = 0.0;  ///< -d time / d acceleration, both runs changed alike, > 0; eq. (6.6)
};

/// A split averaged over the two directions (docs/method.md, "Two ways").
struct TwoWay {
  SplitSpec spec;
  Estimate rollout;             ///< s, on the level road in still air: all of `budget` in it
  Estimate movement;            ///< s, the same with the clock from first movement
  Estimate as_ridden;           ///< s, mean of the accelerations at each speed; the receiver's errors only
  Estimate as_ridden_movement;  ///< s, the same with the clock from first movement
  double wind_s = 0.0;          ///< that the wind's square made it longer, taken off; mean, >= 0
  double wind_sd_s = 0.0;       ///< of wind_s
  std::vector<SensitiveBand> bands;  ///< how it goes with acceleration; empty where the runs do not tell
  double drive_s = 0.0;              ///< that it would be longer with half the drive, to first order; > 0
  double gust_s = 0.0;               ///< sd that usual gusts in such wind bring
  Budget budget;                     ///< of `rollout`
  double plain_mean_s = 0.0;         ///< arithmetic mean of the two rollout times, which people also quote
  double apart = 0.0;                ///< (slower - faster) / mean of the two times, >= 0
  double overlap = 0.0;  ///< road that both runs used for this split, as a share of the shorter, 0..1
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

/// The wind along the road of one day's pairs.
struct DayWind {
  int first_pair = 0;           ///< Pair::id of the first of them
  int pairs = 0;                ///< that speak of it
  double heading_deg = 0.0;     ///< of the first run
  Estimate along_mps;           ///< at a rider's height, against that run; negative: with it
  bool told = false;            ///< the runs tell it well enough to say it
  double square_mps2 = 0.0;     ///< that its square takes from the acceleration both ways, mean
  double square_sd_mps2 = 0.0;  ///< sd of that
  double drag_per_m = 0.0;      ///< drag over mass and the square of speed, mean
  double gust_mps = 0.0;        ///< usual sd of gusts in such wind
};

struct Pairs {
  std::vector<Pair> made;      ///< in order of time
  std::vector<Single> single;  ///< in order of time
  std::vector<DayWind> winds;  ///< a row a day
};

/// A longer pause between pairs starts another day: nobody knows the local midnight.
inline constexpr double day_pause_s = 6 * 3600.0;

/// All pairs of one split taken together.
struct Overall {
  SplitSpec spec;
  int pairs = 0;     ///< n >= 1
  int days = 1;      ///< that they were ridden on
  Estimate rollout;  ///< s, on the level road in still air: all of `budget` in it
  Estimate movement;
  double as_ridden_s = 0.0;  ///< the same without the wind's square taken off, by the clock from one foot
  double as_ridden_movement_s = 0.0;
  Budget budget;  ///< of `rollout`
  Budget budget_movement;
  double scatter_s = 0.0;       ///< sd between pairs of one day as it came out, by luck small; 0: one pair
  double best_one_way_s = 0.0;  ///< quickest single run of those in the pairs, rollout clock
  double best_one_way_movement_s = 0.0;
};

}  // namespace bothways
