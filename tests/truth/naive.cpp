#include "truth/naive.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <variant>

namespace bothways::truth {

namespace {

constexpr double moving_mps = 0.5;

std::optional<double> speed_crossing(const PlainSpeed& speed, std::size_t from, double end_s, double level) {
  for (std::size_t i = from + 1; i < speed.t_s.size() && speed.t_s[i] < end_s; ++i) {
    const double a = speed.v_mps[i - 1];
    const double b = speed.v_mps[i];
    if (a < level && b >= level) {
      return speed.t_s[i - 1] + (speed.t_s[i] - speed.t_s[i - 1]) * (level - a) / (b - a);
    }
  }
  return std::nullopt;
}

std::optional<double> distance_crossing(const PlainSpeed& speed, std::size_t from, double end_s, double m) {
  double travelled = 0.0;
  for (std::size_t i = from + 1; i < speed.t_s.size() && speed.t_s[i] < end_s; ++i) {
    const double dt = speed.t_s[i] - speed.t_s[i - 1];
    const double step = 0.5 * (speed.v_mps[i] + speed.v_mps[i - 1]) * dt;
    if (travelled + step >= m) {
      return speed.t_s[i - 1] + dt * (m - travelled) / step;
    }
    travelled += step;
  }
  return std::nullopt;
}

}  // namespace

PlainSpeed plain_speed(const Log& log, Instant begin) {
  PlainSpeed speed;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const Fix& fix = log.fixes[i];
    const double t_s = seconds_between(begin, fix.time);
    if (is_known(fix.speed_mps)) {
      speed.t_s.push_back(t_s);
      speed.v_mps.push_back(fix.speed_mps);
    } else if (i > 0) {
      const Fix& last = log.fixes[i - 1];
      const PlanePoint step = LocalPlane({last.lat_deg, last.lon_deg}).to_plane({fix.lat_deg, fix.lon_deg});
      speed.t_s.push_back(t_s);
      speed.v_mps.push_back(std::hypot(step.east_m, step.north_m) / seconds_between(last.time, fix.time));
    }
  }
  return speed;
}

std::optional<double> naive_split_s(const PlainSpeed& speed, const sim::TrueStart& start,
                                    const SplitSpec& spec) {
  // A person finds the run by eye: well under way, then back to the last sample that is not moving.
  std::size_t first = static_cast<std::size_t>(
      std::upper_bound(speed.t_s.begin(), speed.t_s.end(), start.movement_s) - speed.t_s.begin());
  while (first < speed.t_s.size() && speed.v_mps[first] < 2.0) {
    ++first;
  }
  while (first > 0 && speed.v_mps[first - 1] > moving_mps) {
    --first;
  }
  if (first >= speed.t_s.size()) {
    return std::nullopt;
  }
  const double end_s = start.lift_s + 1.0;
  const auto crossing = [&](const Mark& mark) {
    if (const auto* level = std::get_if<Speed>(&mark)) {
      return speed_crossing(speed, first == 0 ? 0 : first - 1, end_s, level->mps());
    }
    return distance_crossing(speed, first, end_s, std::get<Length>(mark).m());
  };
  const auto begin = spec.from_rest() ? std::optional(speed.t_s[first]) : crossing(spec.from);
  const auto end = crossing(spec.to);
  if (!begin || !end) {
    return std::nullopt;
  }
  return *end - *begin;
}

}  // namespace bothways::truth
