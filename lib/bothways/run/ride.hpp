#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/log/log.hpp"
#include "bothways/run/find.hpp"
#include "bothways/run/run.hpp"
#include "bothways/run/trace.hpp"
#include "bothways/speed/series.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// The speed of a whole ride, thinned: the mean over each step, NaN where nothing is believed.
struct SpeedProfile {
  static constexpr double step_s = 1.0;
  Instant start;              ///< of the first step
  std::vector<float> v_mps;   ///< (n)
  std::vector<char> at_rest;  ///< (n) 1: most of the step the vehicle is taken to stand
};

/// A part of a log by time, from <= t < until, that counts as a log of its own.
struct PartOfLog {
  Instant from;
  Instant until;
};

/// One log after the run stage: what the later stages and the reports need of it, without its fixes.
struct Ride {
  std::string path;
  LogFormat format = LogFormat::gpx;
  bool dated = true;
  std::size_t fixes = 0;
  std::size_t readings = 0;  ///< that the fixes repeat or are drawn between; 0: each is a reading
  bool moved_only = false;   ///< nothing was written at rest: no start is in it
  Instant first;             ///< time of the first fix
  Instant last;              ///< time of the last fix
  SpeedSource source = SpeedSource::reported;
  Receiver receiver;
  double top_speed_mps = 0.0;           ///< highest smoothed speed of the log
  std::vector<double> timed_up_to_mps;  ///< by each standing start that pulls like the best, m/s
  std::optional<PartOfLog> part;        ///< nothing: all of the log
  int turn = 0;  ///< 1-based: riding without a change of set-up between; 0: not known. See number_turns()
  std::optional<Conditions> conditions;  ///< as the rider wrote them down; analyse() leaves them empty
  std::vector<Note> notes;               ///< of the log, the speed stage and the run stage, in this order
  Runs runs;                             ///< its notes moved up to `notes`
  SpeedProfile profile;                  ///< for a picture of the ride
  Trace trace;                           ///< thin track, by which logs of one ride are known
};

/// All that is known of a ride before its starts are judged: what marks to ask for follows from it.
[[nodiscard]] Ride look_at(const Log& log, const SpeedSeries& series);

/// The same ride with its runs. @param series  that it was looked at with
[[nodiscard]] Ride with_runs(Ride ride, SpeedSeries series, const RunOptions& options);

/// The speed that nearly all starts of these rides can be timed up to, m/s: what usual_splits() wants. The
/// lower quartile of those that come to more than 0.6 of the best, so that an aborted try lowers no mark, and
/// one good start raises none.
/// @return 0 where there is no start
[[nodiscard]] double reach_mps(const std::vector<const Ride*>& rides);

/// log -> speed -> runs in one call.
[[nodiscard]] Ride analyse(const Log& log, const RunOptions& options = {});

}  // namespace bothways
