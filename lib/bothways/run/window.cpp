#include "bothways/run/window.hpp"

#include "bothways/log/log.hpp"
#include "bothways/numeric/robust.hpp"
#include "bothways/speed/frozen.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace bothways {

namespace {

constexpr double rest_kept_s = 6.0;
constexpr double turned_back_m = 15.0;
constexpr double launch_over_mps = 2.0;
// Launches are sought for so long before the first surely moving reading.
constexpr double longest_frozen_s =
    2.0;  // positions thaw so soon after movement (phones beside a wheel: one fix)
constexpr double longest_held_s = 1.0;  // a receiver lets go that late once the vehicle moves; no source
constexpr double held_from_hz = 3.0;    // a slower one shows one reading of it
constexpr double usual_span_s = 1.2;
constexpr double long_creep_span_s = 5.5;  // a car whose brake is released creeps for seconds

/// Direction of travel: from the standing place to the places passed in the second half of the run.
struct Line {
  bool known = false;
  double east0_m = 0.0;
  double north0_m = 0.0;
  double east = 0.0;  ///< unit vector
  double north = 0.0;
};

Line line_of(const Stretch& s, const StandingStart& start) {
  Line line;
  std::vector<double> e;
  std::vector<double> n;
  for (std::size_t i = start.rest_begin; i <= start.rest_end; ++i) {
    if (std::isfinite(s.east_m[i])) {
      e.push_back(s.east_m[i]);
      n.push_back(s.north_m[i]);
    }
  }
  if (e.empty()) {
    return line;
  }
  line.east0_m = numeric::quantile(std::move(e), 0.5);
  line.north0_m = numeric::quantile(std::move(n), 0.5);
  double sum_e = 0.0;
  double sum_n = 0.0;
  for (std::size_t i = (start.moving + start.end) / 2; i <= start.end; ++i) {
    if (std::isfinite(s.east_m[i])) {
      sum_e += s.east_m[i] - line.east0_m;
      sum_n += s.north_m[i] - line.north0_m;
    }
  }
  const double length = std::hypot(sum_e, sum_n);
  if (length > 1.0) {
    line.known = true;
    line.east = sum_e / length;
    line.north = sum_n / length;
  }
  return line;
}

/// The farthest row along the line before the vehicle stops or turns back.
std::size_t last_row_onwards(const Stretch& s, const StandingStart& start, const Line& line) {
  std::size_t far = start.rest_end;
  double far_m = 0.0;
  for (std::size_t i = start.moving; i < s.t_s.size(); ++i) {
    if (!std::isfinite(s.east_m[i])) {
      continue;
    }
    const double along =
        (s.east_m[i] - line.east0_m) * line.east + (s.north_m[i] - line.north0_m) * line.north;
    if (along > far_m) {
      far_m = along;
      far = i;
    }
    if ((i > start.end && s.at_rest[i] != 0) || along < far_m - turned_back_m) {
      break;
    }
  }
  return far;
}

double longest_lag_s(const Receiver& r) {
  double longest = 0.0;
  for (const Smoothing& candidate : r.smoothing) {
    longest = std::max(longest, candidate.filter.predicts() ? 0.0 : candidate.filter.lag_s);
  }
  return longest;
}

/// The launch is sought so long before the first surely moving reading, s.
double search_span_s(const SpeedSeries& series, const StandingStart& start, bool long_creep) {
  const Receiver& r = series.receiver;
  const double hold_s = r.zero_hold_mps > 0.0 ? 0.4 + r.zero_hold_mps : 0.0;
  const double positions_s = series.source == SpeedSource::positions ? 1.0 : 0.0;
  return (long_creep ? long_creep_span_s : usual_span_s) + 2.2 / r.rate_hz + 3.0 * longest_lag_s(r) + hold_s +
         positions_s + std::max(0.0, start.unread_s - 1.0 / r.rate_hz);
}

/// The last row before the launch that has the place of the rest to the last digit; nothing if none has.
std::optional<std::size_t> last_frozen(const Stretch& s, const StandingStart& start, std::size_t begin) {
  for (std::size_t i = start.rest_end + 1; !s.frozen.empty() && i-- > begin;) {
    if (s.frozen[i] != 0) {
      return i;
    }
  }
  return std::nullopt;
}

/// The instants among which the launch is sought, times from row `begin`.
LaunchRange range_of(const SpeedSeries& series, const StandingStart& start, std::size_t begin,
                     bool long_creep) {
  const Stretch& s = series.stretches[start.stretch];
  const double t0 = s.t_s[begin];
  LaunchRange range;
  range.latest_s = s.t_s[start.moving] - t0;
  range.early_end_s = range.latest_s;
  for (std::size_t i = start.moving; i <= start.end && s.v_mps[i] < launch_over_mps; ++i) {
    range.early_end_s = s.t_s[i] - t0;
  }
  range.earliest_s = std::max(0.0, range.latest_s - search_span_s(series, start, long_creep));
  if (const auto last = last_frozen(s, start, begin)) {
    range.earliest_s = std::max(range.earliest_s, s.t_s[*last] - t0 - longest_frozen_s);
  }
  return range;
}

Reading position_reading(const Stretch& s, std::size_t i, const Line& line, const Receiver& r) {
  Reading reading;
  reading.kind = Reading::Kind::position;
  reading.z = (s.east_m[i] - line.east0_m) * line.east + (s.north_m[i] - line.north0_m) * line.north;
  reading.variance = r.position_white_sd_m * r.position_white_sd_m;
  return reading;
}

Reading speed_reading(const Stretch& s, std::size_t i, const Receiver& r) {
  const double worse = std::max(1.0, s.sd_mps[i] / total_noise_mps(r));
  Reading reading;
  reading.z = s.v_mps[i];
  reading.variance =
      r.white_sd_mps * r.white_sd_mps * worse * worse + r.resolution_mps * r.resolution_mps / 12.0;
  if (!is_valid(s, i)) {
    reading.kind = Reading::Kind::excluded;
  } else if (reading.z == 0.0 && r.zero_hold_mps > 0.0) {
    reading.kind = Reading::Kind::censored;
  }
  return reading;
}

/// Places that a fast receiver holds at rest say nothing of the vehicle until it lets go.
void exclude_held(const Stretch& s, std::size_t begin, std::size_t last, std::vector<Reading>& readings) {
  if (s.t_s[last] - s.t_s[begin] < least_hold_s || s.frozen[begin] == 0) {
    return;
  }
  for (std::size_t i = begin; i <= last; ++i) {
    if (s.t_s[last] - s.t_s[i] < longest_held_s) {
      readings[i - begin].kind = Reading::Kind::excluded;
    }
  }
}

void set_places(const SpeedSeries& series, const StandingStart& start, const Line& line, StartWindow& w) {
  const Stretch& s = series.stretches[start.stretch];
  w.place = w.end_place = w.stop_place = {unknown, unknown};
  if (!line.known) {
    return;
  }
  w.heading_deg = direction_deg({0.0, 0.0}, {line.east, line.north});
  w.place = series.plane.from_plane({line.east0_m, line.north0_m});
  const std::size_t last = last_row_onwards(s, start, line);
  w.stop_place = series.plane.from_plane({s.east_m[last], s.north_m[last]});
  if (std::isfinite(s.east_m[start.end])) {
    w.end_place = series.plane.from_plane({s.east_m[start.end], s.north_m[start.end]});
  }
}

}  // namespace

StartWindow start_window(const SpeedSeries& series, const StandingStart& start, const LaunchModel& model,
                         bool long_creep) {
  const Stretch& s = series.stretches[start.stretch];
  std::size_t begin = start.rest_end;
  while (begin > start.rest_begin && s.t_s[start.rest_end] - s.t_s[begin] < rest_kept_s) {
    --begin;
  }
  const double t0 = s.t_s[begin];
  const Line line = line_of(s, start);
  std::vector<Reading> readings;
  readings.reserve(start.end + 1 - begin);
  for (std::size_t i = begin; i <= start.end; ++i) {
    readings.push_back(model.positions ? position_reading(s, i, line, series.receiver)
                                       : speed_reading(s, i, series.receiver));
    readings.back().t_s = s.t_s[i] - t0;
  }
  const auto last = last_frozen(s, start, begin);
  if (last && series.receiver.rate_hz >= held_from_hz) {
    exclude_held(s, begin, *last, readings);
  }
  StartWindow w;
  w.start = shifted(s.start, t0);
  w.launch = launch_window(std::move(readings), range_of(series, start, begin, long_creep), model);
  w.end_s = s.t_s[start.end] - t0;
  set_places(series, start, line, w);
  return w;
}

}  // namespace bothways
