#include "bothways/run/detect.hpp"

#include "bothways/run/climb.hpp"
#include "bothways/run/filled_rest.hpp"
#include "bothways/speed/moved_only.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <utility>

namespace bothways {

namespace {

constexpr double drop_mps = 0.7;            // a gear change loses less
constexpr double astray_sds = 2.0;          // of the stray of positions, which catch up with the vehicle
constexpr double lingering_s = 1.9;         // positions that wander on the spot, within so many times
constexpr double lingering_astrays = 1.5;   // what they go astray in a second
constexpr double longest_flicker_s = 0.35;  // above the threshold, within a rest
constexpr double slow_below_hz = 3.0;       // phones: a slow error lets a hold go, and is then read at rest
constexpr double most_unsure_mps = 0.6;
constexpr double hidden_below_mps = 12.0;  // a stretch that begins faster hides no start worth telling
constexpr double unseen_rise_s = 5.0;      // after a silence in a log by distance
constexpr double unseen_top_mps = 5.0;     // less was no start worth telling
constexpr double roll_below_mps = 5.6;  // 12.5 mph: rolling starts begin below (common practice, no source)
constexpr double roll_rise_mps = 2.5;
constexpr double roll_noise_mps = 0.5;
constexpr double roll_accel_mps2 = 1.0;  // gentler is riding, not a try

/// The last valid row of a rest; its first one if there is none.
std::size_t last_valid(const Stretch& s, std::size_t rest_begin, std::size_t rest_end) {
  while (rest_end > rest_begin && !is_valid(s, rest_end)) {
    --rest_end;
  }
  return rest_end;
}

/// How long the positions had lingered about the place where they were last at rest, s.
double lingered_s(const Stretch& s, std::size_t rest_end, double radius_m) {
  std::size_t i = rest_end;
  while (i > 0 && std::hypot(s.east_m[i - 1] - s.east_m[rest_end], s.north_m[i - 1] - s.north_m[rest_end]) <
                      radius_m) {
    --i;
  }
  return s.t_s[rest_end] - s.t_s[i];
}

/// Time at rest before a start, s: what wanders on the spot for a while has stood as long.
double rest_time_s(const Scan& scan, std::size_t rest_begin, std::size_t rest_end) {
  const double seen_s = scan.s.t_s[rest_end] - scan.s.t_s[rest_begin];
  const double lingered =
      scan.astray_mps > 0.0 ? lingered_s(scan.s, rest_end, lingering_astrays * scan.astray_mps) : 0.0;
  return lingered > lingering_s ? std::max(seen_s, lingered) : seen_s;
}

void find_standing(const Scan& scan, std::size_t stretch, std::vector<StandingStart>& out) {
  const std::size_t n = scan.v.size();
  std::size_t i = 0;
  while (i < n) {
    if (scan.at_rest[i] == 0) {
      ++i;
      continue;
    }
    const std::size_t stood_from = i;
    std::size_t rest_begin = i;
    std::size_t rest_end = i;
    // Rest goes on over a short flicker above the threshold.
    while (i < n && (scan.at_rest[i] != 0 || scan.s.t_s[i] - scan.s.t_s[rest_end] < longest_flicker_s)) {
      rest_end = scan.at_rest[i] != 0 ? i : rest_end;
      rest_begin = scan.at_rest[i] == kicked ? i + 1 : rest_begin;
      ++i;
    }
    i = rest_end + 1;
    if (i >= n) {
      break;
    }
    const Climb climbed = climb(scan, rest_end);
    const double top = scan.v[climbed.top];
    if (top < rise_mps || top < 2.0 * scan.rest_mps || climbed.top < rest_end + 2) {
      continue;  // one reading is no motion
    }
    StandingStart start{stretch, rest_begin, rest_end, rest_end + 1, climbed.top, climbed.ended_by};
    start.rest_s = rest_time_s(scan, stood_from, rest_end);
    start.top_mps = top;
    start.unread_s = scan.s.t_s[start.moving] - scan.s.t_s[last_valid(scan.s, rest_begin, rest_end)];
    out.push_back(start);
    i = climbed.top + 1;
  }
}

/// A steady roll may last: the start is where its speed was last near the lowest.
std::size_t end_of_roll(const Scan& scan, std::size_t low, std::size_t until) {
  const double lowest = scan.v[low];
  for (std::size_t k = low; k < until; ++k) {
    low = scan.v[k] < lowest + roll_noise_mps ? k : low;
  }
  return low;
}

/// Acceleration from a row: to another, or over the 2 s after it, whichever is greater.
double roll_accel(const Scan& scan, std::size_t from, std::size_t to) {
  std::size_t k = from;
  while (k + 1 < scan.v.size() && scan.s.t_s[k] < scan.s.t_s[from] + 2.0) {
    ++k;
  }
  const auto mean_to = [&](std::size_t row) {
    return (scan.v[row] - scan.v[from]) / (scan.s.t_s[row] - scan.s.t_s[from]);
  };
  return std::max(mean_to(k), mean_to(to));
}

void add_rolling(const Scan& scan, std::size_t stretch, std::size_t low, std::size_t risen,
                 std::vector<RollingStart>& out) {
  const double lowest = scan.v[low];
  if (lowest < scan.rest_mps || lowest >= roll_below_mps) {
    return;
  }
  const std::size_t from = end_of_roll(scan, low, risen);
  const double accel = roll_accel(scan, from, risen);
  if (accel > roll_accel_mps2) {
    out.push_back({stretch, from, scan.v[from], scan.v[climb(scan, from).top], accel});
  }
}

void find_rolling(const Scan& scan, std::size_t stretch, std::vector<RollingStart>& out) {
  const std::size_t n = scan.v.size();
  std::size_t low = 0;
  std::size_t peak = 0;  // since the lowest point
  bool armed = false;    // came down to the lowest point from above
  double high = n > 0 ? scan.v[0] : 0.0;
  for (std::size_t i = 1; i < n; ++i) {
    if (scan.v[i] < scan.v[low] || !armed) {
      armed = high - scan.v[i] > 1.0;
      low = i;
      peak = i;
      high = std::max(high, scan.v[i]);
    }
    // Less than a start, and down again: what follows begins here, and not from the rest before.
    peak = scan.v[i] > scan.v[peak] ? i : peak;
    if (armed && scan.v[i] < scan.v[peak] - scan.drop - scan.astray_mps) {
      low = i;
      peak = i;
    }
    if (armed && scan.v[i] > scan.v[low] + roll_rise_mps) {
      add_rolling(scan, stretch, low, i, out);
      low = i;
      peak = i;
      high = scan.v[i];
      armed = false;
    }
  }
}

/// Where points are written by distance: silences in which the vehicle stood and after which it gained speed,
/// but where it seemed to stand in the first points too. Where a row beside the silence has no place, what
/// was found without it stays.
void find_unseen(const SpeedSeries& series, Starts& out) {
  const std::vector<HiddenStart> before_this = std::move(out.hidden);
  out.hidden.clear();
  for (std::size_t k = 1; k < series.stretches.size(); ++k) {
    const Stretch& before = series.stretches[k - 1];
    const Stretch& s = series.stretches[k];
    const double gap_s = seconds_between(shifted(before.start, before.t_s.back()), s.start);
    const double way_m =
        std::hypot(s.east_m.front() - before.east_m.back(), s.north_m.front() - before.north_m.back());
    if (std::isnan(way_m)) {
      std::copy_if(before_this.begin(), before_this.end(), std::back_inserter(out.hidden),
                   [&](const HiddenStart& start) { return start.stretch == k; });
      continue;
    }
    const auto soon =
        static_cast<std::size_t>(std::upper_bound(s.t_s.begin(), s.t_s.end(), unseen_rise_s) - s.t_s.begin());
    const double top_mps =
        *std::max_element(s.smooth_mps.begin(), s.smooth_mps.begin() + static_cast<std::ptrdiff_t>(soon));
    const bool seen = std::any_of(out.standing.begin(), out.standing.end(), [&](const StandingStart& start) {
      return start.stretch == k && s.t_s[start.rest_begin] < unseen_rise_s;
    });
    if (!seen && stood_or_crept(way_m, gap_s) && top_mps >= unseen_top_mps) {
      out.hidden.push_back({k, gap_s});
    }
  }
}

}  // namespace

double time_at_speed(const Stretch& stretch, std::size_t from, std::size_t end, double level_mps) {
  const std::vector<double>& v = stretch.smooth_mps;
  for (std::size_t i = from; i + 1 <= end && i + 1 < v.size(); ++i) {
    if (v[i] < level_mps && v[i + 1] >= level_mps) {
      const double u = (level_mps - v[i]) / (v[i + 1] - v[i]);
      return stretch.t_s[i] + u * (stretch.t_s[i + 1] - stretch.t_s[i]);
    }
  }
  return -1.0;
}

Starts detect_starts(const SpeedSeries& series) {
  Starts out;
  const double noise_mps = total_noise_mps(series.receiver);
  const double drop = drop_mps + 2.0 * noise_mps;
  const double astray_mps =
      series.source == SpeedSource::positions ? astray_sds * series.receiver.position_stray_sd_mps : 0.0;
  const bool slow = series.source == SpeedSource::reported && series.receiver.rate_hz < slow_below_hz;
  const double unsure_mps = slow ? std::min(series.rest_mps + noise_mps, most_unsure_mps) : 0.0;
  bool stood_before = false;
  for (std::size_t k = 0; k < series.stretches.size(); ++k) {
    const Stretch& stretch = series.stretches[k];
    const Scan scan{stretch,
                    stretch.smooth_mps,
                    series.rest_mps,
                    drop,
                    series.source == SpeedSource::positions
                        ? std::max(noise_mps, series.receiver.position_stray_sd_mps)
                        : noise_mps,
                    astray_mps,
                    slow,
                    filled_rest(stretch, unsure_mps)};
    if (k > 0 && stood_before && scan.v.front() >= series.rest_mps && scan.v.front() < hidden_below_mps) {
      const Stretch& before = series.stretches[k - 1];
      out.hidden.push_back({k, seconds_between(shifted(before.start, before.t_s.back()), stretch.start)});
    }
    find_standing(scan, k, out.standing);
    std::vector<RollingStart> rolling;
    find_rolling(scan, k, rolling);
    std::copy_if(rolling.begin(), rolling.end(), std::back_inserter(out.rolling), [&](const auto& r) {
      return std::none_of(out.standing.begin(), out.standing.end(), [&](const StandingStart& s) {
        return s.stretch == k && s.rest_begin <= r.row && r.row <= s.end;
      });
    });
    stood_before = scan.v.back() < series.rest_mps;
  }
  if (series.moved_only) {
    find_unseen(series, out);
  }
  return out;
}

}  // namespace bothways
