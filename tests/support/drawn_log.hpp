#pragma once

#include "bothways/log/log.hpp"
#include "support/simulate/random.hpp"

#include <cmath>
#include <cstddef>
#include <cstdint>
#include <iterator>
#include <utility>
#include <vector>

namespace bothways {

/// Time, s, and speed, m/s.
using SpeedPoints = std::vector<std::pair<double, double>>;

/// On straight lines between the points.
inline double speed_at(const SpeedPoints& points, double t_s) {
  auto to = std::next(points.begin());
  while (std::next(to) != points.end() && to->first < t_s) {
    ++to;
  }
  const auto& [t0, v0] = *std::prev(to);
  return v0 + (to->second - v0) * (t_s - t0) / (to->first - t0);
}

/// A log whose speed is drawn by hand, with a white noise of 0.02 m/s along and across the road, so that
/// limits can be tried on both sides; no positions.
inline Log drawn_log(const SpeedPoints& points, double rate_hz = 10.0, std::uint64_t seed = 1) {
  constexpr std::int64_t begin_us = 1'777'887'000'000'000;
  sim::Random random(seed);
  Log log;
  for (int i = 0; i / rate_hz <= points.back().first; ++i) {
    Fix fix;
    fix.time = {begin_us + std::llround(1e6 * i / rate_hz)};
    fix.speed_mps =
        std::hypot(speed_at(points, i / rate_hz) + 0.02 * random.normal(), 0.02 * random.normal());
    log.fixes.push_back(fix);
  }
  return log;
}

/// The same ridden to the north, positions alone and without noise.
/// @param off_m  what the position at a time in s is ahead of the vehicle, m
template <typename Off>
Log drawn_positions(const SpeedPoints& points, double rate_hz, const Off& off_m) {
  constexpr double m_per_deg = 111'000.0;
  constexpr double step_s = 0.001;
  Log log = drawn_log(points, rate_hz);
  double travel_m = 0.0;
  double t_s = 0.0;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    for (const double until_s = static_cast<double>(i) / rate_hz; t_s < until_s; t_s += step_s) {
      travel_m += step_s * speed_at(points, t_s + step_s / 2.0);
    }
    log.fixes[i].speed_mps = unknown;
    log.fixes[i].lat_deg = 10.0 + (travel_m + off_m(static_cast<double>(i) / rate_hz)) / m_per_deg;
    log.fixes[i].lon_deg = 20.0;
  }
  return log;
}

/// Further points, each so many seconds after the one before.
inline SpeedPoints operator+(SpeedPoints points, const SpeedPoints& further) {
  for (const auto& [after_s, v_mps] : further) {
    points.emplace_back(points.back().first + after_s, v_mps);
  }
  return points;
}

}  // namespace bothways
