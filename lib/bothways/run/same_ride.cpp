#include "bothways/run/same_ride.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string_view>
#include <tuple>

namespace bothways {

namespace {

constexpr double beside_m = 60.0;     // two receivers on one vehicle, clocks some seconds apart
constexpr double identical_m = 1.0;   // the same figures, rounded
constexpr double least_shared = 0.5;  // of the shorter log
constexpr double nearly_all = 0.9;
constexpr double moved_m = 10.0;        // in a step: 2 m/s
constexpr std::size_t least_moved = 3;  // steps, to be judged by them alone

/// How two logs lie to each other at the steps that both recorded.
struct Common {
  std::size_t steps = 0;
  std::vector<double> apart_m;         ///< where both have positions
  std::vector<double> apart_moving_m;  ///< of these, where either moved
};

bool placed(const TracePoint& point) {
  return point.lat_1e7 != TracePoint::nowhere;
}

/// On a plane through the two; metres.
double distance_m(const TracePoint& a, const TracePoint& b) {
  const auto deg = [](std::int32_t x) { return static_cast<double>(x) * 1e-7; };
  const LocalPlane plane({deg(a.lat_1e7), deg(a.lon_1e7)});
  const PlanePoint point = plane.to_plane({deg(b.lat_1e7), deg(b.lon_1e7)});
  return std::hypot(point.east_m, point.north_m);
}

bool moved(const std::vector<TracePoint>& points, std::size_t i) {
  return i > 0 && points[i - 1].step + 1 == points[i].step && placed(points[i - 1]) &&
         distance_m(points[i - 1], points[i]) > moved_m;
}

Common common_of(const std::vector<TracePoint>& a, const std::vector<TracePoint>& b) {
  Common common;
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (a[i].step != b[j].step) {
      a[i].step < b[j].step ? ++i : ++j;
      continue;
    }
    ++common.steps;
    if (placed(a[i]) && placed(b[j])) {
      common.apart_m.push_back(distance_m(a[i], b[j]));
      if (moved(a, i) || moved(b, j)) {
        common.apart_moving_m.push_back(common.apart_m.back());
      }
    }
    ++i;
    ++j;
  }
  return common;
}

bool overlap_in_time(const Trace& a, const Trace& b) {
  return !a.points.empty() && !b.points.empty() && a.points.front().step <= b.points.back().step &&
         b.points.front().step <= a.points.back().step;
}

bool is_same(const Trace& a, const Trace& b) {
  if (a.dated != b.dated || !overlap_in_time(a, b)) {
    return false;
  }
  const Common common = common_of(a.points, b.points);
  const auto shorter = static_cast<double>(std::min(a.points.size(), b.points.size()));
  if (static_cast<double>(common.steps) <= least_shared * shorter) {
    return false;
  }
  if (common.apart_m.empty()) {
    return a.dated;
  }
  const auto& judged = common.apart_moving_m.size() >= least_moved ? common.apart_moving_m : common.apart_m;
  return a.dated ? numeric::quantile(judged, 0.5) <= beside_m
                 : static_cast<double>(common.apart_m.size()) >= nearly_all * shorter &&
                       numeric::quantile(judged, nearly_all) <= identical_m;
}

/// Fixes a second in steps of a quarter octave, so that a jitter of the times decides nothing.
long rate_class(const Trace& trace) {
  return trace.step_s > 0.0 ? std::lround(-4.0 * std::log2(trace.step_s)) : -1000;
}

std::vector<std::size_t> best_first(std::span<const Trace> traces, Better better) {
  std::vector<std::size_t> order(traces.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto key = [&](std::size_t i) {
    const Trace& trace = traces[i];
    const auto length = better == Better::distance ? -static_cast<long>(trace.points.size()) : 0L;
    return std::tuple(length, -rate_class(trace), trace.source != SpeedSource::reported,
                      -static_cast<long>(trace.fixes), trace.format == LogFormat::csv,
                      std::string_view(trace.path));
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return key(a) < key(b); });
  return order;
}

constexpr const char* two_vehicles = "; if they are of two vehicles, give each log to a call of its own";

Note once_note(const Trace& worse, const Trace& better) {
  return {"same-ride",
          worse.path + " recorded the same ride as " + better.path +
              "; what both recorded counts once, from " + better.path + two_vehicles,
          0};
}

/// Takes out what the better log recorded too; true if there was anything.
bool leave_out(Ride& worse, const Trace& better) {
  auto& runs = worse.runs;
  const std::size_t before = runs.accepted.size() + runs.rejected.size();
  std::erase_if(runs.accepted, [&](const Run& run) { return covers(better, run.movement); });
  std::erase_if(runs.rejected, [&](const Rejected& start) { return covers(better, start.time); });
  return runs.accepted.size() + runs.rejected.size() < before;
}

}  // namespace

std::vector<SameRide> same_rides(std::span<const Trace> traces, Better better) {
  const std::vector<std::size_t> order = best_first(traces, better);
  std::vector<SameRide> found;
  for (std::size_t worse = 1; worse < order.size(); ++worse) {
    for (std::size_t k = 0; k < worse; ++k) {
      if (is_same(traces[order[worse]], traces[order[k]])) {
        found.push_back({order[worse], order[k]});
      }
    }
  }
  return found;
}

Note same_ride_note(const Trace& worse, const Trace& better) {
  return {"same-ride",
          worse.path + " recorded the same ride as " + better.path + " and is left out" + two_vehicles, 0};
}

void leave_out_same_rides(std::vector<Ride>& rides) {
  std::vector<Trace> traces;
  traces.reserve(rides.size());
  for (Ride& ride : rides) {
    traces.push_back(std::move(ride.trace));
  }
  std::size_t last_told = rides.size();
  for (const SameRide& same : same_rides(traces)) {
    if (leave_out(rides[same.worse], traces[same.better]) && last_told != same.worse) {
      last_told = same.worse;
      rides[same.worse].notes.push_back(once_note(traces[same.worse], traces[same.better]));
    }
  }
  for (std::size_t i = 0; i < rides.size(); ++i) {
    rides[i].trace = std::move(traces[i]);
  }
}

}  // namespace bothways
