// Tables of the whole ride: its speed, what became of each start, and where the runs went.
#include "bothways/report/escape.hpp"
#include "bothways/report/page/tables.hpp"

#include <cmath>
#include <cstddef>
#include <utility>

namespace bothways {

namespace {

constexpr std::size_t most_ride_points = 6000;

double minutes(Instant from, Instant to) {
  return seconds_between(from, to) / 60.0;
}

std::string minutes_text(double minutes) {
  const double whole_s = rounded(minutes * 60.0, 0);
  const double m = std::floor(whole_s / 60.0);
  const std::string s = fixed(whole_s - 60.0 * m, 0);
  return fixed(m, 0) + ":" + (s.size() < 2 ? "0" : "") + s;
}

double speed_at(const Ride& ride, Instant at, double unit) {
  const auto step =
      static_cast<std::ptrdiff_t>(std::floor(seconds_between(ride.profile.start, at) / SpeedProfile::step_s));
  const auto n = static_cast<std::ptrdiff_t>(ride.profile.v_mps.size());
  if (step < 0 || step >= n || !std::isfinite(ride.profile.v_mps[static_cast<std::size_t>(step)])) {
    return 0.0;
  }
  return static_cast<double>(ride.profile.v_mps[static_cast<std::size_t>(step)]) / unit;
}

Json speed_block(const Ride& ride, double unit) {
  const auto& v = ride.profile.v_mps;
  const std::size_t stride = 1 + v.size() / most_ride_points;
  const double offset_min = minutes(ride.first, ride.profile.start);
  Columns block{{{"m", Json::array()}, {"v", Json::array()}}};
  for (std::size_t i = 0; i < v.size(); i += stride) {
    block.add("m", offset_min + static_cast<double>(i) * SpeedProfile::step_s / 60.0, 3);
    block.add("v", static_cast<double>(v[i]) / unit, 1);
  }
  return Json::array({std::move(block.object)});
}

/// From when to when the vehicle stood.
Json stops_of(const Ride& ride) {
  const auto& at_rest = ride.profile.at_rest;
  const double offset_min = minutes(ride.first, ride.profile.start);
  const auto minute = [&](std::size_t step) {
    return rounded(offset_min + static_cast<double>(step) * SpeedProfile::step_s / 60.0, 3);
  };
  Json rows = Json::array();
  for (std::size_t i = 0; i < at_rest.size(); ++i) {
    const std::size_t from = i;
    while (i < at_rest.size() && at_rest[i] != 0) {
      ++i;
    }
    if (i > from) {
      const double lasts_min = minute(i) - minute(from);
      rows.push_back({{"from", minute(from)},
                      {"to", minute(i)},
                      {"text", minutes_text(minute(from)) + ": stood for " + minutes_text(lasts_min)}});
    }
  }
  return rows;
}

}  // namespace

RideTables ride_tables(const Page& page, const Ride& ride, const Side& side) {
  const double unit = per_unit_mps(page);
  RideTables out{speed_block(ride, unit), Json::array(), Json::array(), stops_of(ride)};
  for (const Run& run : ride.runs.accepted) {
    const double last_s = run.curve.t_s.empty() ? 0.0 : run.curve.t_s.back();
    const double from = minutes(ride.first, run.clock_start);
    out.runs.push_back({{"run", run.id},
                        {"from", rounded(from, 3)},
                        {"to", rounded(from + last_s / 60.0, 3)},
                        {"group", group_of(page.compared.sides, side, run)},
                        {"text", "run " + std::to_string(run.id) + ", from " + minutes_text(from)}});
  }
  for (const Rejected& start : ride.runs.rejected) {
    const double at = minutes(ride.first, start.time);
    out.others.push_back({{"m", rounded(at, 3)},
                          {"v", rounded(speed_at(ride, start.time, unit), 1)},
                          {"at", minutes_text(at)},
                          {"code", escaped(start.code)},
                          {"text", escaped(minutes_text(at) + ": " + start.text)}});
  }
  return out;
}

namespace {

/// Where a run went, from its start on, on a plane about the first run's start.
Json course_block(const std::vector<Side>& sides, const Side& side, const Ride& ride, const Run& run,
                  const LocalPlane& plane) {
  Columns block{{{"key", escaped(side.name) + "#" + std::to_string(run.id)},
                 {"run", run.id},
                 {"group", group_of(sides, side, run)}}};
  const auto add = [&](const LatLon& place) {
    if (std::isfinite(place.lat_deg) && std::isfinite(place.lon_deg)) {
      const PlanePoint at = plane.to_plane(place);
      block.add("x", at.east_m, 1);
      block.add("y", at.north_m, 1);
    }
  };
  const double last_s = run.curve.t_s.empty() ? 0.0 : run.curve.t_s.back();
  add(run.start);
  for (const TracePoint& point : ride.trace.points) {
    const double t_s =
        static_cast<double>(point.step) * trace_step_s - static_cast<double>(run.clock_start.unix_us) * 1e-6;
    if (point.lat_1e7 != TracePoint::nowhere && t_s > 0.0 && t_s < last_s) {
      add({point.lat_1e7 * 1e-7, point.lon_1e7 * 1e-7});
    }
  }
  add(run.end);
  return std::move(block.object);
}

}  // namespace

Json course_table(const Page& page) {
  Json blocks = Json::array();
  const Run* first = first_with_heading(page.compared.sides);
  if (first == nullptr) {
    return blocks;
  }
  const LocalPlane plane(first->start);
  for (const Side& side : page.compared.sides) {
    for (const Ride& ride : side.rides) {
      for (const Run& run : ride.runs.accepted) {
        Json block = course_block(page.compared.sides, side, ride, run, plane);
        if (block.contains("x")) {
          blocks.push_back(std::move(block));
        }
      }
    }
  }
  return blocks;
}

}  // namespace bothways
