#pragma once

#include "bothways/run/detect.hpp"
#include "bothways/speed/series.hpp"

#include <string>
#include <vector>

namespace bothways {

/// Speed from which on pulls are compared, m/s: below it launches differ.
inline constexpr double pull_from_mps = 2.0;

/// A standing start whose pull is asked about.
struct PulledStart {
  StandingStart start;
  double to_mps = 0.0;   ///< speed up to which it is compared, m/s, above pull_from_mps
  bool reached = false;  ///< the first mark
  bool stood = false;    ///< long enough for a run
  bool hidden = false;   ///< impossible readings hide how it began
  bool topped = false;   ///< it ended because the vehicle had no more speed
};

/// What became of it.
struct PullVerdict {
  double pull_mps2 = 0.0;     ///< mean acceleration from pull_from_mps to to_mps; 0 if it has none
  double best_mps2 = 0.0;     ///< the log's best over the same speeds; 0 for none
  double needed_share = 0.0;  ///< of the best, below which a start surely was gentle
  bool gentle = false;
  double way_top_mps = 0.0;  ///< highest speed of the alike starts that went its way; 0 if none was asked
};

/// Speed up to which the pull of a start is best compared with others', m/s: 20 mph, or where the receiver's
/// noise makes 3 % of a pull, for noisy readings of a few m/s say little of how hard a start was; not near
/// its own top speed.
/// @param least_mps  so far at least, but for the last of its own top speed
[[nodiscard]] double compared_up_to_mps(const SpeedSeries& series, double top_mps, double least_mps = 0.0);

/// Mean acceleration of a start from pull_from_mps to a speed, m/s^2; 0 if it does not pass both.
[[nodiscard]] double mean_pull_mps2(const SpeedSeries& series, const StandingStart& start, double to_mps);

/// Judges starts together: gentle is what pulls surely less than 75 % of the log's best, unless slope and
/// wind explain it: starts the other way on the same road, alike among themselves, may be slower by what 3 %
/// of slope and a wind of 4 m/s do to a weak vehicle between directions (docs/method.md, section 3).
/// @return one verdict a start, in their order
[[nodiscard]] std::vector<PullVerdict> judge_pulls(const SpeedSeries& series,
                                                   const std::vector<PulledStart>& starts);

/// The reason of a start left out as gentle. What is next to nothing has no figure that says something; a
/// share that is just too small shows it.
/// @param pull  of a gentle start, best_mps2 > 0
[[nodiscard]] std::string gentle_words(const PullVerdict& pull);

}  // namespace bothways
