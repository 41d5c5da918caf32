#include "bothways/run/window.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace bothways {

namespace {

constexpr double rest_kept_s = 6.0;
constexpr double turned_back_m = 15.0;
constexpr double launch_over_mps = 2.0;
constexpr double alike_span_s =
    1.2;                            // launches are sought for so long before the first surely moving reading
constexpr double own_span_s = 5.5;  // a car whose brake is released creeps for seconds

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
std::size_t last_row_onwards(const Stretch& s, const StandingStart& start, const Line& line,
                             double rest_mps) {
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
    if ((i > start.end && s.v_mps[i] < rest_mps) || along < far_m - turned_back_m) {
      break;
    }
  }
  return far;
}

double rate_span_s(const Receiver& r, bool gentle) {
  const double hold = r.zero_hold_mps > 0.0 ? 0.4 + r.zero_hold_mps : 0.0;
  return (gentle ? own_span_s : alike_span_s) + 2.2 / r.rate_hz + 3.0 * r.lag_s + hold;
}

}  // namespace

LaunchWindow launch_window(const SpeedSeries& series, const StandingStart& start, bool gentle) {
  const Stretch& s = series.stretches[start.stretch];
  const Receiver& r = series.receiver;
  LaunchWindow w;
  std::size_t begin = start.rest_end;
  while (begin > start.rest_begin && s.t_s[start.rest_end] - s.t_s[begin] < rest_kept_s) {
    --begin;
  }
  const double t0 = s.t_s[begin];
  w.start = shifted(s.start, t0);
  const Line line = line_of(s, start);
  const bool positions = series.source == SpeedSource::positions;
  const double resolution = r.resolution_mps * r.resolution_mps / 12.0;
  w.readings.reserve(start.end + 1 - begin);
  for (std::size_t i = begin; i <= start.end; ++i) {
    Reading reading;
    reading.t_s = s.t_s[i] - t0;
    if (positions) {
      reading.kind = Reading::Kind::position;
      reading.z = (s.east_m[i] - line.east0_m) * line.east + (s.north_m[i] - line.north0_m) * line.north;
      reading.variance = r.position_white_sd_m * r.position_white_sd_m;
    } else {
      reading.z = s.v_mps[i];
      const double worse = std::max(1.0, s.sd_mps[i] / std::hypot(r.white_sd_mps, r.slow_sd_mps));
      reading.variance = r.white_sd_mps * r.white_sd_mps * worse * worse + resolution;
      if (s.sd_mps[i] >= disbelieved_mps) {
        reading.kind = Reading::Kind::none;
      } else if (reading.z == 0.0 && r.zero_hold_mps > 0.0) {
        reading.kind = Reading::Kind::held;
      }
    }
    w.readings.push_back(reading);
  }
  w.range.latest_s = s.t_s[start.moving] - t0;
  w.range.early_end_s = w.range.latest_s;
  for (std::size_t i = start.moving; i <= start.end && s.v_mps[i] < launch_over_mps; ++i) {
    w.range.early_end_s = s.t_s[i] - t0;
  }
  const double span_s =
      rate_span_s(r, gentle) + (positions ? 1.0 : 0.0) + std::max(0.0, start.unread_s - 1.0 / r.rate_hz);
  w.range.earliest_s = std::max(s.t_s[begin] - t0, w.range.latest_s - span_s);
  w.end_s = s.t_s[start.end] - t0;
  const double nan = std::numeric_limits<double>::quiet_NaN();
  w.place = {nan, nan};
  w.end_place = {nan, nan};
  w.stop_place = {nan, nan};
  if (line.known) {
    w.has_heading = true;
    const double deg = std::atan2(line.east, line.north) * 180.0 / std::numbers::pi;
    w.heading_deg = deg < 0.0 ? deg + 360.0 : deg;
    w.place = series.plane.from_plane({line.east0_m, line.north0_m});
    const std::size_t last = last_row_onwards(s, start, line, rest_threshold_mps(series));
    w.stop_place = series.plane.from_plane({s.east_m[last], s.north_m[last]});
    if (std::isfinite(s.east_m[start.end])) {
      w.end_place = series.plane.from_plane({s.east_m[start.end], s.north_m[start.end]});
    }
  }
  return w;
}

}  // namespace bothways
