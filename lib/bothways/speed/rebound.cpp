// docs/method.md, eq. (1.10): R / a' = over_decel_s2.
#include "bothways/speed/rebound.hpp"

#include "bothways/numeric/square.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

using numeric::square;

// Common practice, no source, all of them.
constexpr double lowest_within_s = 0.8;  // of the zero of the line
constexpr double rebound_lasts_s = 1.2;  // from the lowest
constexpr double settled_s = 1.5;        // and then at rest
constexpr double most_rest_mps = 0.4;
constexpr std::size_t least_rest_rows = 4;
constexpr double decel_from_s = 0.65;  // before the lowest
constexpr double decel_to_s = 0.15;
constexpr double least_end_decel_mps2 = 0.4;
constexpr double least_noise_mps = 0.01;
constexpr double unsure_share = 0.5;  // of the level at rest: slow noise was another in the swing
constexpr double rocking_s2 = 0.012;  // of the antenna on springs that come to rest: 3 cm from 2.5 m/s^2
constexpr double uneven_rebound_share = 0.25;

/// Mean and sd of some readings.
struct Level {
  double mean_mps = 0.0;
  double sd_mps = 0.0;
};

Level level_of(const Stretch& s, std::size_t from, std::size_t to) {
  Level level;
  double squares = 0.0;
  const auto n = static_cast<double>(to - from);
  for (std::size_t i = from; i < to; ++i) {
    level.mean_mps += s.v_mps[i] / n;
    squares += square(s.v_mps[i]) / n;
  }
  level.sd_mps = std::sqrt(std::max(0.0, squares - square(level.mean_mps)));
  return level;
}

/// How much of the height above rest is a rise after the lowest reading: a low pass only falls, and its tail
/// is no rebound.
double share_risen(const Stretch& s, std::size_t low, std::size_t end, double rest_mps) {
  double peak_mps = rest_mps;
  for (std::size_t i = low + 1; i + 1 < end; ++i) {
    peak_mps = std::max(peak_mps, (s.v_mps[i - 1] + s.v_mps[i] + s.v_mps[i + 1]) / 3.0);
  }
  return peak_mps > rest_mps ? std::clamp((peak_mps - s.v_mps[low]) / (peak_mps - rest_mps), 0.0, 1.0) : 0.0;
}

}  // namespace

Rebound rebound_after(const Stretch& s, std::size_t begin, double zero_s) {
  std::size_t low = begin;
  for (std::size_t i = begin; i < s.t_s.size() && s.t_s[i] < zero_s + lowest_within_s; ++i) {
    low = s.v_mps[i] < s.v_mps[low] ? i : low;
  }
  const std::size_t end = row_at(s, s.t_s[low] + rebound_lasts_s);
  const std::size_t settled = row_at(s, s.t_s[low] + rebound_lasts_s + settled_s);
  const std::size_t from = row_at(s, s.t_s[low] - decel_from_s);
  const std::size_t to = row_at(s, s.t_s[low] - decel_to_s);
  if (settled < end + least_rest_rows || to <= from) {
    return {};
  }
  const Level rest = level_of(s, end, settled);
  const double decel_mps2 = (s.v_mps[from] - s.v_mps[to]) / (s.t_s[to] - s.t_s[from]);
  if (rest.mean_mps > most_rest_mps || decel_mps2 < least_end_decel_mps2) {
    return {};
  }
  double travel_m = 0.0;
  double squares_s2 = 0.0;
  for (std::size_t i = low; i < end; ++i) {
    const double dt_s = s.t_s[i + 1] - s.t_s[i];
    travel_m += dt_s * (0.5 * (s.v_mps[i] + s.v_mps[i + 1]) - rest.mean_mps);
    squares_s2 += square(dt_s);
  }
  travel_m *= share_risen(s, low, end, rest.mean_mps);
  const double noise_m = std::sqrt(squares_s2) * std::max(rest.sd_mps, least_noise_mps);
  const double level_m = unsure_share * rest.mean_mps * rebound_lasts_s;
  const double rebound_s2 = travel_m / decel_mps2;
  return {rebound_s2, std::sqrt(square(noise_m / decel_mps2) + square(level_m / decel_mps2) +
                                square(rocking_s2) + square(uneven_rebound_share * rebound_s2))};
}

}  // namespace bothways
