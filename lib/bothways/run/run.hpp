#pragma once

// run/ finds the standing starts in a speed series, says which count, and times them.

#include "bothways/core/estimate.hpp"
#include "bothways/core/geodesy.hpp"
#include "bothways/core/note.hpp"
#include "bothways/core/split_spec.hpp"
#include "bothways/core/time.hpp"

#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// When the clock of a split from rest starts.
enum class Clock {
  rollout,  ///< after the first foot (0.3048 m) of travel
  movement  ///< at first movement
};

/// "rollout" or "movement": the word of the output contract.
[[nodiscard]] const char* to_string(Clock clock);

/// "time after the first foot (0.30 m) of travel" or "time from first movement".
[[nodiscard]] const char* describe(Clock clock);

/// One split of one run. A split that the run does not reach is absent, never 0.
struct Split {
  SplitSpec spec;     ///< what was asked
  Estimate rollout;   ///< s, clock starts after 0.3048 m
  Estimate movement;  ///< s, clock starts at first movement; as `rollout` in a rolling interval
  std::optional<Estimate> speed_mps;  ///< where it ends at a distance: the speed there, m/s
  /// What the runs of one log have wrong alike, eq. (5.5): an entry for each hypothesis of launch and
  /// smoothing that they share, the square root of its weight times (the time under it - the time), s. The
  /// variance it makes is in the sd of the estimate.
  std::vector<double> rollout_shared_s;
  std::vector<double> movement_shared_s;  ///< likewise
  /// What they have wrong alike where a gear change falls on a mark, eq. (5.7): the sd over its likely
  /// crossings, of the end and of the beginning of the split, signed as the time goes with them, s. Empty
  /// where each mark has one. It is in the sd of both estimates.
  std::vector<double> crossing_shared_s;
};

/// Covariance of times of two runs of one log, s^2, from what both share: the sum of the products of their
/// entries; of a time with itself the variance that is shared. 0 where they were not timed alike (sizes
/// differ). It is linear: the entries of a sum or a mean of times are the sum or the mean of theirs.
[[nodiscard]] double shared_covariance(const std::vector<double>& one_s, const std::vector<double>& other_s);

/// First crossing of a speed: the run as two-way results need it (docs/method.md, "Two ways").
/// Edges rise from the speed after one foot in steps of about 1 m/s; the speeds of the splits are among them.
struct SpeedEdge {
  double v_mps = 0.0;  ///< m/s
  double t_s = 0.0;    ///< s after the clock start (0.3048 m)
  double sd_s = 0.0;   ///< of t_s, clock start included
  double s_m = 0.0;    ///< travel from rest, m
};

/// The smoothed run for pages and tables; rows every 0.05 s or so.
struct Curve {
  std::vector<double> t_s;      ///< (n) s after the clock start; negative before
  std::vector<double> v_mps;    ///< (n) m/s
  std::vector<double> sd_mps;   ///< (n) m/s
  std::vector<double> a_mps2;   ///< (n) m/s^2
  std::vector<double> sd_mps2;  ///< (n) m/s^2
  std::vector<double> s_m;      ///< (n) travel, m
};

/// A standing start that counts.
struct Run {
  int id = 0;        ///< 1-based, unique within one result
  Instant movement;  ///< best estimate of first movement
  double movement_sd_s = 0.0;
  Instant clock_start;  ///< best estimate of the instant after one foot of travel
  double clock_sd_s = 0.0;
  double heading_deg = 0.0;  ///< direction of travel, clockwise from true north, 0..360
  LatLon start;              ///< where it stood
  LatLon end;                ///< where the run ended
  LatLon stop{std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::quiet_NaN()};
  ///< farthest point before it next stopped or turned back; NaN: as `end`
  double length_m = 0.0;         ///< travel from start to end of the run
  double top_speed_mps = 0.0;    ///< highest speed before the lift
  std::vector<Split> splits;     ///< in the order asked
  std::vector<SpeedEdge> edges;  ///< rising in v_mps and t_s
  Curve curve;
  std::vector<Split> more_splits;     ///< RunOptions::more_splits that it reaches, in the order asked
  std::vector<SpeedEdge> more_edges;  ///< as `edges`, with the speeds of more_splits among them
  bool gentle = false;                ///< a gentle start timed on request
  std::vector<Note> notes;            ///< what a reader of this run should know
};

/// The split of this name, nullptr if the run did not reach it.
[[nodiscard]] const Split* find_split(const Run& run, const std::string& name);

/// A start that does not count, and why.
struct Rejected {
  Instant time;      ///< of the start
  LatLon place;      ///< NaN where the log has no positions
  std::string code;  ///< rolling-start | lifted | top-speed | gentle | gap | short | impossible | left-out
  std::string text;  ///< one sentence
};

struct Runs {
  std::vector<Run> accepted;       ///< in order of time
  std::vector<Rejected> rejected;  ///< in order of time
  std::vector<Note> notes;
};

}  // namespace bothways
