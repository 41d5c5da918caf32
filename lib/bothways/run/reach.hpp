#pragma once

#include "bothways/run/detect.hpp"
#include "bothways/run/run.hpp"
#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// Highest of the speeds of all stretches, m/s; 0 for none.
[[nodiscard]] double highest_speed_mps(const SpeedSeries& series);

/// Whether a start ended because the vehicle had no more speed: it held its highest speed for 2 s more, and
/// the log knows hardly any higher one.
/// @param most_mps    the highest speed of the log
[[nodiscard]] bool is_out_of_speed(const Stretch& stretch, const StandingStart& start, double most_mps);

/// Speeds, m/s, up to which each standing start can be timed that pulls like the best of its log. What is
/// ridden in traffic, from a roll or by paddling says nothing of the vehicle. Near its highest speed a
/// vehicle gains so little that a mark there would be crossed at any time: such a start counts for a twelfth
/// less.
[[nodiscard]] std::vector<double> timed_up_to_mps(const SpeedSeries& series);

/// The speed that nearly all starts can be timed up to, m/s: the lower quartile of those that come to more
/// than 0.6 of the best, so that an aborted try lowers no mark, and one good start raises none.
/// @return 0 where there is none
[[nodiscard]] double reach_mps(std::vector<double> up_to_mps);

/// Without the splits to a speed that the smoothed speeds never came near (2 % and four sd of the noise): a
/// burst of wild readings before the lift can carry the path there, and its crossing then looks sharp.
/// @param top_mps    highest smoothed speed of the run
/// @param noise_mps  sd of one reading
[[nodiscard]] std::vector<Split> within_reach(std::vector<Split> splits, double top_mps, double noise_mps);

/// The least time that a split can take, s: at the most that a tyre holds, OutlierLimits::most_accel_mps2,
/// from rest on. Its clock starts at the first foot, so it may be negative.
[[nodiscard]] double least_time_s(const SplitSpec& spec);

}  // namespace bothways
