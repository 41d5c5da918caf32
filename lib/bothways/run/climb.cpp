#include "bothways/run/climb.hpp"

#include "bothways/run/filled_rest.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace bothways {

namespace {

constexpr double astray_s = 4.5;  // after it got away: the first two to four fixes of phones beside a wheel
constexpr double thrown_s = 2.5;  // after it got away: positions that thaw overshoot
constexpr double caught_up_s = 8.0;  // and the vehicle is as fast by then. Common practice, no source
constexpr double flat_s = 1.7;       // no gain for this long is a gear change, a lift, or the top speed
constexpr double least_accel_mps2 = 0.12;
constexpr double waking_s = 0.5;            // the smoothed speed may still read as rest for so long
constexpr double least_accel_share = 0.08;  // of the run's own peak

// A gear change by hand, of an old car or a moped. Common practice, no source, all of them.
constexpr double longest_change_s = 1.2;
constexpr double smoothing_s = 0.4;  // the mean over 0.21 s either way rounds both ends
constexpr double pull_s = 2.0;       // by which the pull before it and after it are told
constexpr double least_pull_mps2 = 0.2;
constexpr double least_pull_share = 0.35;  // of the pull before it: 0.45 to 0.75 in the next gear
constexpr double changed_above_mps = 4.0;  // below, a clutch that bites twice is no gear change
constexpr double level_mps = 0.1;          // within it of top and bottom nothing is gained yet
constexpr double pull_sds = 3.0;           // of the noise

/// Whether a climb from a row to a top so far is over at a row.
bool is_let_off(const Scan& scan, std::size_t from, std::size_t top, std::size_t i) {
  const bool woken = scan.v[top] >= scan.rest_mps || scan.s.t_s[i] - scan.s.t_s[from] > waking_s;
  const double astray = scan.s.t_s[i] - scan.s.t_s[from] < astray_s ? scan.astray_mps : 0.0;
  const bool dropped = scan.v[i] < scan.v[top] - scan.drop - astray;
  return dropped || (woken && scan.v[i] < scan.rest_mps);
}

/// Where the pause of a gear change ends, and how far the pull after it was looked at.
struct GearChange {
  std::size_t end = 0;
  std::size_t seen = 0;
};

double mean_accel(const Scan& scan, std::size_t from, std::size_t to) {
  return (scan.v[to] - scan.v[from]) / (scan.s.t_s[to] - scan.s.t_s[from]);
}

/// The gear change by which a climb was flat up to a row, if it was one: soon after the vehicle stopped
/// gaining speed it pulls on, about as strongly as the next gear allows. A rider who lets off does not.
/// @param from         first row of the climb
/// @param top          its highest row so far
/// @param i            where it was flat
/// @param peak_mps2    of the climb: who pulls harder after a pause than ever before did not try before
std::optional<GearChange> gear_change(const Scan& scan, std::size_t from, std::size_t top, std::size_t i,
                                      double peak_mps2) {
  const std::vector<double>& t = scan.s.t_s;
  const std::vector<double>& v = scan.v;
  if (v[top] < changed_above_mps) {
    return std::nullopt;
  }
  const double level = level_mps + scan.noise_mps;
  std::size_t begin = top;
  while (begin > from && v[begin - 1] >= v[top] - level) {
    --begin;
  }
  const std::size_t before = std::max(from, row_at(scan.s, t[begin] - pull_s));
  if (before >= begin) {
    return std::nullopt;
  }
  std::size_t low = top;
  for (std::size_t k = top; k < v.size() && t[k] - t[i] < pull_s; ++k) {
    low = v[k] < v[low] ? k : low;
  }
  std::size_t end = low;
  for (std::size_t k = low; k < v.size() && t[k] - t[low] < pull_s && v[k] < v[low] + level; ++k) {
    end = k;
  }
  const std::size_t seen = row_at(scan.s, t[end] + pull_s);
  if (seen >= v.size()) {
    return std::nullopt;
  }
  for (std::size_t k = top + 1; k <= seen; ++k) {
    if (is_let_off(scan, from, top, k)) {
      return std::nullopt;
    }
  }
  const double pulled = mean_accel(scan, before, begin);
  const double pulls = mean_accel(scan, end, seen);
  const std::size_t middle = row_at(scan.s, 0.5 * (t[end] + t[seen]));
  const double least = std::max(least_pull_mps2, least_pull_share * pulled);
  const double longest_s = longest_change_s + smoothing_s + level / pulled + level / pulls +
                           (scan.slow ? t[begin + 1] - t[begin] : 0.0);
  const bool pulls_on = pulled >= least_pull_mps2 && pulls >= least && pulls <= peak_mps2 &&
                        v[seen] > v[top] && mean_accel(scan, middle, seen) >= 0.5 * least &&
                        v[seen] - v[end] > pull_sds * scan.noise_mps;
  return pulls_on && t[end] - t[begin] <= longest_s ? std::optional(GearChange{end, seen}) : std::nullopt;
}

/// Where positions that were frozen at rest overshoot as they catch up with the vehicle, the speed made of
/// them falls although nobody let off; soon the vehicle is as fast.
/// @param top  row of the overshoot
/// @return the row at which it is as fast; nothing if it does not come to that, or lets off before
std::optional<std::size_t> caught_up(const Scan& scan, std::size_t from, std::size_t top) {
  const std::vector<double>& t = scan.s.t_s;
  const std::vector<double>& v = scan.v;
  const std::vector<char>& frozen = scan.s.frozen;
  const bool thaws =
      scan.astray_mps > 0.0 && !frozen.empty() && (frozen[from] != 0 || (from > 0 && frozen[from - 1] != 0));
  if (!thaws || t[top] - t[from] > thrown_s) {
    return std::nullopt;
  }
  double since_low_mps = 0.0;
  std::size_t low = top;
  for (std::size_t k = top + 1; k < v.size() && t[k] - t[from] < caught_up_s; ++k) {
    if (v[k] > v[top]) {
      return k;
    }
    if (v[k] < v[low]) {
      low = k;
      since_low_mps = v[k];
    }
    since_low_mps = std::max(since_low_mps, v[k]);
    if (t[low] - t[from] > astray_s || v[k] < scan.rest_mps || v[k] < since_low_mps - scan.drop) {
      return std::nullopt;
    }
  }
  return std::nullopt;
}

}  // namespace

Climb climb(const Scan& scan, std::size_t from) {
  Climb out{from, StandingStart::End::series_end};
  double peak_accel = 0.0;
  std::size_t back = from;
  const std::size_t n = scan.v.size();
  for (std::size_t i = from + 1; i < n; ++i) {
    if (scan.v[i] > scan.v[out.top]) {
      out.top = i;
    }
    const bool lone =
        scan.slow && scan.v[out.top] >= rise_mps && i + 1 < n && !is_let_off(scan, from, out.top, i + 1);
    if (is_let_off(scan, from, out.top, i) && !lone) {
      if (const auto caught = caught_up(scan, from, out.top)) {
        out.top = *caught;
        i = back = *caught;
        continue;
      }
      out.ended_by = StandingStart::End::lift;
      return out;
    }
    while (back + 1 < i && scan.s.t_s[i] - scan.s.t_s[back + 1] >= flat_s) {
      ++back;
    }
    const double span = scan.s.t_s[i] - scan.s.t_s[back];
    if (span < flat_s) {
      continue;
    }
    const double accel = mean_accel(scan, back, i);
    peak_accel = std::max(peak_accel, accel);
    if (accel >= std::max(least_accel_mps2, least_accel_share * peak_accel) || scan.v[i] <= rise_mps) {
      continue;
    }
    if (const auto change = gear_change(scan, from, out.top, i, peak_accel)) {
      const auto v = [&](std::size_t row) { return scan.v.begin() + static_cast<std::ptrdiff_t>(row); };
      out.top = static_cast<std::size_t>(std::max_element(v(out.top), v(change->seen + 1)) - scan.v.begin());
      back = change->end;
      i = change->seen;
      continue;
    }
    out.ended_by = StandingStart::End::lift;
    out.top = std::min(out.top, i);
    return out;
  }
  return out;
}

}  // namespace bothways
