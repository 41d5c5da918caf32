#include "bothways/run/detect.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

namespace {

constexpr double calm_half_s = 0.21;
constexpr double drop_mps = 0.7;  // a gear change loses less
constexpr double spike_before_s = 0.7;
constexpr double spike_after_s = 0.6;
constexpr double flat_s = 1.7;  // no gain for this long is a lift, or the top speed
constexpr double least_accel_mps2 = 0.12;
constexpr double waking_s = 0.5;            // the averaged speed may still read as rest for so long
constexpr double least_accel_share = 0.08;  // of the run's own peak
constexpr double rise_mps = 2.5;            // less is no start: paddling, rocking
constexpr double roll_below_mps = 5.6;  // 12.5 mph: rolling starts begin below (common practice, no source)
constexpr double roll_rise_mps = 2.5;
constexpr double roll_noise_mps = 0.5;
constexpr double roll_accel_mps2 = 1.0;  // gentler is riding, not a try

/// Fast logs: middle one of three neighbours, so that a single wild reading is gone before averages are
/// taken.
std::vector<double> middle_of_three(const Stretch& stretch) {
  std::vector<double> out = stretch.v_mps;
  for (std::size_t i = 1; i + 1 < out.size(); ++i) {
    if (stretch.t_s[i + 1] - stretch.t_s[i - 1] < 2.5 * calm_half_s) {
      const double a = stretch.v_mps[i - 1];
      const double b = stretch.v_mps[i];
      const double c = stretch.v_mps[i + 1];
      out[i] = std::max(std::min(a, b), std::min(std::max(a, b), c));
    }
  }
  return out;
}

/// Mean of what is believed of `middle` over about 0.4 s.
std::vector<double> calm_of(const Stretch& stretch, const std::vector<double>& middle) {
  const std::size_t n = middle.size();
  std::vector<double> calm(n, 0.0);
  std::size_t lo = 0;
  std::size_t hi = 0;
  for (std::size_t i = 0; i < n; ++i) {
    while (stretch.t_s[i] - stretch.t_s[lo] > calm_half_s) {
      ++lo;
    }
    while (hi < n && stretch.t_s[hi] - stretch.t_s[i] <= calm_half_s) {
      ++hi;
    }
    double sum = 0.0;
    double count = 0.0;
    for (std::size_t k = lo; k < hi; ++k) {
      if (stretch.sd_mps[k] < disbelieved_mps) {
        sum += middle[k];
        count += 1.0;
      }
    }
    if (count > 0.0) {
      calm[i] = sum / count;
    } else {
      calm[i] = i > 0 ? calm[i - 1] : 0.0;
    }
  }
  return calm;
}

/// One pass over a stretch.
struct Scan {
  const Stretch& s;
  std::vector<double> calm;
  std::vector<double> middle;
  double rest_mps;
  double drop;
};

struct Climb {
  std::size_t top = 0;
  StandingStart::End ended_by = StandingStart::End::lift;
};

/// Whether a drop only ends a spike of some readings: what is lost after the top was gained just before it,
/// and the speed goes on rising from there.
bool is_spike(const Scan& scan, std::size_t from, std::size_t top, std::size_t dropped) {
  const double level = scan.calm[dropped];
  std::size_t before = top;
  while (before > from && scan.calm[before] > level) {
    --before;
  }
  std::size_t after = dropped;
  while (after + 1 < scan.calm.size() && scan.s.t_s[after] - scan.s.t_s[dropped] < spike_after_s) {
    ++after;
    if (scan.calm[after] < level) {
      return false;
    }
  }
  return scan.s.t_s[top] - scan.s.t_s[before] < spike_before_s &&
         scan.s.t_s[after] - scan.s.t_s[dropped] >= spike_after_s && level > scan.rest_mps;
}

/// Follows an acceleration from a row to its lift.
Climb climb(const Scan& scan, std::size_t from) {
  Climb out{from, StandingStart::End::series_end};
  double peak_accel = 0.0;
  std::size_t back = from;
  const std::size_t n = scan.calm.size();
  for (std::size_t i = from + 1; i < n; ++i) {
    if (scan.calm[i] > scan.calm[out.top]) {
      out.top = i;
    }
    const bool woken = scan.calm[out.top] >= scan.rest_mps || scan.s.t_s[i] - scan.s.t_s[from] > waking_s;
    const bool dropped = scan.calm[i] < scan.calm[out.top] - scan.drop;
    if (dropped && is_spike(scan, from, out.top, i)) {
      out.top = i;
      continue;
    }
    if (dropped || (woken && scan.calm[i] < scan.rest_mps)) {
      out.ended_by = StandingStart::End::lift;
      return out;
    }
    while (back + 1 < i && scan.s.t_s[i] - scan.s.t_s[back + 1] >= flat_s) {
      ++back;
    }
    const double span = scan.s.t_s[i] - scan.s.t_s[back];
    if (span >= flat_s) {
      const double accel = (scan.calm[i] - scan.calm[back]) / span;
      peak_accel = std::max(peak_accel, accel);
      if (accel < std::max(least_accel_mps2, least_accel_share * peak_accel) && scan.calm[i] > rise_mps) {
        out.ended_by = StandingStart::End::lift;
        out.top = std::min(out.top, i);
        return out;
      }
    }
  }
  return out;
}

bool at_rest(const Scan& scan, std::size_t i) {
  return scan.middle[i] < scan.rest_mps ||
         (scan.s.sd_mps[i] >= disbelieved_mps && scan.calm[i] < scan.rest_mps);
}

/// The last believed row of a rest; its first one if there is none.
std::size_t last_believed(const Stretch& s, std::size_t rest_begin, std::size_t rest_end) {
  while (rest_end > rest_begin && s.sd_mps[rest_end] >= disbelieved_mps) {
    --rest_end;
  }
  return rest_end;
}

void find_standing(const Scan& scan, std::size_t stretch, std::vector<StandingStart>& out) {
  const std::size_t n = scan.calm.size();
  std::size_t i = 0;
  while (i < n) {
    if (!at_rest(scan, i)) {
      ++i;
      continue;
    }
    std::size_t rest_begin = i;
    std::size_t rest_end = i;
    // Rest goes on over a short flicker above the threshold.
    while (i < n && (at_rest(scan, i) || scan.s.t_s[i] - scan.s.t_s[rest_end] < 0.35)) {
      rest_end = at_rest(scan, i) ? i : rest_end;
      ++i;
    }
    i = rest_end + 1;
    if (i >= n) {
      break;
    }
    const Climb climbed = climb(scan, rest_end);
    const double top = scan.calm[climbed.top];
    if (top < rise_mps || top < 2.0 * scan.rest_mps || climbed.top < rest_end + 2) {
      continue;  // one reading is no motion
    }
    StandingStart start{stretch, rest_begin, rest_end, rest_end + 1, climbed.top, climbed.ended_by};
    start.rest_s = scan.s.t_s[rest_end] - scan.s.t_s[rest_begin];
    start.top_mps = top;
    start.unread_s = scan.s.t_s[start.moving] - scan.s.t_s[last_believed(scan.s, rest_begin, rest_end)];
    out.push_back(start);
    i = climbed.top + 1;
  }
}

/// A steady roll may last: the start is where its speed was last near the lowest.
std::size_t end_of_roll(const Scan& scan, std::size_t low, std::size_t until) {
  const double lowest = scan.calm[low];
  for (std::size_t k = low; k < until; ++k) {
    low = scan.calm[k] < lowest + roll_noise_mps ? k : low;
  }
  return low;
}

/// Acceleration from a row: to another, or over the 2 s after it, whichever is greater.
double roll_accel(const Scan& scan, std::size_t from, std::size_t to) {
  std::size_t k = from;
  while (k + 1 < scan.calm.size() && scan.s.t_s[k] < scan.s.t_s[from] + 2.0) {
    ++k;
  }
  const auto mean_to = [&](std::size_t row) {
    return (scan.calm[row] - scan.calm[from]) / (scan.s.t_s[row] - scan.s.t_s[from]);
  };
  return std::max(mean_to(k), mean_to(to));
}

void add_rolling(const Scan& scan, std::size_t stretch, std::size_t low, std::size_t risen,
                 std::vector<RollingStart>& out) {
  const double lowest = scan.calm[low];
  if (lowest < scan.rest_mps || lowest >= roll_below_mps) {
    return;
  }
  const std::size_t from = end_of_roll(scan, low, risen);
  const double accel = roll_accel(scan, from, risen);
  if (accel > roll_accel_mps2) {
    out.push_back({stretch, from, scan.calm[from], scan.calm[climb(scan, from).top], accel});
  }
}

void find_rolling(const Scan& scan, std::size_t stretch, std::vector<RollingStart>& out) {
  const std::size_t n = scan.calm.size();
  std::size_t low = 0;
  bool armed = false;  // came down to the lowest point from above
  double high = n > 0 ? scan.calm[0] : 0.0;
  for (std::size_t i = 1; i < n; ++i) {
    if (scan.calm[i] < scan.calm[low] || !armed) {
      armed = high - scan.calm[i] > 1.0;
      low = i;
      high = std::max(high, scan.calm[i]);
    }
    if (armed && scan.calm[i] > scan.calm[low] + roll_rise_mps) {
      add_rolling(scan, stretch, low, i, out);
      low = i;
      high = scan.calm[i];
      armed = false;
    }
  }
}

}  // namespace

double rest_threshold_mps(const SpeedSeries& series) {
  const Receiver& r = series.receiver;
  const double at_rest = 4.0 * r.standing_sd_mps * std::sqrt(static_cast<double>(r.standing_axes));
  if (series.source == SpeedSource::positions) {
    return std::clamp(at_rest, 0.5, 1.5);
  }
  if (r.zero_hold_mps > 0.0) {
    return std::clamp(std::max(r.zero_hold_mps, 0.75 * at_rest), 0.1, 1.2);
  }
  return std::clamp(at_rest + r.resolution_mps, 0.15, 1.2);
}

std::vector<double> calm_speed(const Stretch& stretch) {
  return calm_of(stretch, middle_of_three(stretch));
}

double time_at_speed(const Stretch& stretch, const std::vector<double>& calm, std::size_t from,
                     std::size_t end, double level_mps) {
  for (std::size_t i = from; i + 1 <= end && i + 1 < calm.size(); ++i) {
    if (calm[i] < level_mps && calm[i + 1] >= level_mps) {
      const double u = (level_mps - calm[i]) / (calm[i + 1] - calm[i]);
      return stretch.t_s[i] + u * (stretch.t_s[i + 1] - stretch.t_s[i]);
    }
  }
  return -1.0;
}

Starts detect_starts(const SpeedSeries& series) {
  Starts out;
  const double rest = rest_threshold_mps(series);
  const double noise = std::hypot(series.receiver.white_sd_mps, series.receiver.slow_sd_mps);
  bool stood_before = false;
  for (std::size_t k = 0; k < series.stretches.size(); ++k) {
    const Stretch& stretch = series.stretches[k];
    std::vector<double> middle = middle_of_three(stretch);
    Scan scan{stretch, calm_of(stretch, middle), std::move(middle), rest, drop_mps + 2.0 * noise};
    if (k > 0 && stood_before && scan.calm.front() >= rest && scan.calm.front() < 12.0) {
      const Stretch& before = series.stretches[k - 1];
      out.hidden.push_back({k, seconds_between(shifted(before.start, before.t_s.back()), stretch.start)});
    }
    find_standing(scan, k, out.standing);
    find_rolling(scan, k, out.rolling);
    stood_before = scan.calm.back() < rest;
    out.calm_mps.push_back(std::move(scan.calm));
  }
  return out;
}

}  // namespace bothways
