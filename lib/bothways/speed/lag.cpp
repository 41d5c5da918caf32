// docs/method.md, eq. (1.6): its left side = missing_m, z_end - z_start = change_mps, tau = lag_s.
#include "bothways/speed/lag.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace bothways {

namespace {

constexpr double longest_event_s = 14.0;
constexpr double least_change_mps = 6.0;
constexpr double straight_m = 2.5;  // farthest off the line
constexpr double slow_mps = 1.5;    // near rest
constexpr int least_events = 6;

struct Event {
  double change_mps = 0.0;
  double missing_m = 0.0;  ///< distance by positions - by speed
};

/// Straight line between two rows? Then the distance by positions less that by speed.
bool measure(const Stretch& s, std::size_t a, std::size_t b, Event& event) {
  const double east = s.east_m[b] - s.east_m[a];
  const double north = s.north_m[b] - s.north_m[a];
  const double chord = std::hypot(east, north);
  if (!(chord > 15.0)) {  // also where a position is missing
    return false;
  }
  double travel = 0.0;
  for (std::size_t i = a; i < b; ++i) {
    const double off = ((s.east_m[i] - s.east_m[a]) * north - (s.north_m[i] - s.north_m[a]) * east) / chord;
    if (!(std::abs(off) < straight_m) || !is_valid(s, i)) {
      return false;
    }
    travel += 0.5 * (s.v_mps[i] + s.v_mps[i + 1]) * (s.t_s[i + 1] - s.t_s[i]);
  }
  event = {s.v_mps[b] - s.v_mps[a], chord - travel};
  return true;
}

/// Farthest row within the time limit over which speed keeps rising (sign +1) or falling (-1).
std::size_t end_of_change(const Stretch& s, std::size_t from, int sign) {
  std::size_t best = from;
  for (std::size_t i = from + 1; i < s.t_s.size() && s.t_s[i] - s.t_s[from] <= longest_event_s; ++i) {
    const double gain = sign * (s.v_mps[i] - s.v_mps[best]);
    if (gain > 0.0) {
      best = i;
    } else if (gain < -1.5 || s.t_s[i] - s.t_s[best] > 2.5) {
      break;
    }
  }
  return best;
}

void collect(const Stretch& s, std::vector<Event>& events) {
  std::size_t i = 1;
  while (i + 1 < s.t_s.size()) {
    const bool leaves = s.v_mps[i] < slow_mps && s.v_mps[i + 1] >= slow_mps;
    if (leaves) {
      const std::size_t end = end_of_change(s, i, 1);
      Event event;
      if (s.v_mps[end] - s.v_mps[i] > least_change_mps && measure(s, i, end, event)) {
        events.push_back(event);
      }
    }
    const bool arrives = s.v_mps[i] < slow_mps && s.v_mps[i - 1] >= slow_mps;
    if (arrives) {
      std::size_t begin = i;
      while (begin > 0 && s.t_s[i] - s.t_s[begin - 1] <= longest_event_s &&
             s.v_mps[begin - 1] > s.v_mps[begin] - 0.3) {
        --begin;
      }
      Event event;
      if (s.v_mps[begin] - s.v_mps[i] > least_change_mps && measure(s, begin, i, event)) {
        events.push_back(event);
      }
    }
    ++i;
  }
}

}  // namespace

Lag estimate_lag(const SpeedSeries& series) {
  std::vector<Event> events;
  for (const Stretch& s : series.stretches) {
    collect(s, events);
  }
  Lag out;
  out.events = static_cast<int>(events.size());
  if (out.events < least_events) {
    return out;
  }
  // The ratios weighted by the change, outliers left out: a bend or a jump of the positions must not decide.
  std::vector<double> ratios;
  ratios.reserve(events.size());
  for (const Event& event : events) {
    ratios.push_back(event.missing_m / event.change_mps);
  }
  const double middle = numeric::quantile(ratios, 0.5);
  std::vector<double> off;
  off.reserve(ratios.size());
  for (const double ratio : ratios) {
    off.push_back(ratio - middle);
  }
  const double spread = std::max(numeric::robust_sd(off), 0.005);
  double sum = 0.0;
  double weights = 0.0;
  for (const Event& event : events) {
    if (std::abs(event.missing_m / event.change_mps - middle) < 3.0 * spread) {
      sum += event.missing_m * event.change_mps;
      weights += event.change_mps * event.change_mps;
    }
  }
  out.lag_s = sum / weights;
  out.sd_s = 1.2 * spread / std::sqrt(static_cast<double>(out.events));
  return out;
}

}  // namespace bothways
