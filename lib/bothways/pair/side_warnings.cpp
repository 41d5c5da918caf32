#include "bothways/pair/side_warnings.hpp"

#include "bothways/core/geodesy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

namespace bothways {

namespace {

constexpr double same_axis_deg = 25.0;  // as for partners
constexpr double same_rate = 1.5;       // ratio of fixes a second
constexpr double same_start_m = 40.0;   // a rider's mark at the roadside, and what receivers err

/// Where the first run of a pair went.
struct Road {
  LatLon middle;
  double heading_deg;
  double length_m;
};

std::vector<Road> roads_of(const Side& side) {
  std::vector<Road> roads;
  for (const Pair& pair : side.pairs.made) {
    const Run& run = run_of_pair(side.rides, pair, true);
    const LocalPlane plane(run.start);
    const PlanePoint end = plane.to_plane(run.end);
    roads.push_back({plane.from_plane({end.east_m / 2.0, end.north_m / 2.0}), run.heading_deg, run.length_m});
  }
  return roads;
}

bool is_same_road(const Road& a, const Road& b) {
  const double turn = angle_between_deg(a.heading_deg, b.heading_deg);
  return std::min(turn, 180.0 - turn) <= same_axis_deg &&
         geodesic_between(a.middle, b.middle).distance_m <= std::max(a.length_m, b.length_m);
}

/// Where a run began, and which way.
struct Beginning {
  LatLon place;
  double heading_deg;
};

std::vector<Beginning> beginnings_of(const Side& side) {
  std::vector<Beginning> all;
  for (const Pair& pair : side.pairs.made) {
    for (const bool first : {true, false}) {
      const Run& run = run_of_pair(side.rides, pair, first);
      all.push_back({run.start, run.heading_deg});
    }
  }
  return all;
}

/// How far the runs of one side began from the nearest of the other that went their way: the median, m;
/// not a number where places are not known.
double apart_m(const std::vector<Beginning>& one, const std::vector<Beginning>& other) {
  std::vector<double> apart;
  for (const Beginning& run : one) {
    double nearest = std::numeric_limits<double>::infinity();
    for (const Beginning& match : other) {
      if (angle_between_deg(run.heading_deg, match.heading_deg) < 90.0) {
        nearest = std::min(nearest, geodesic_between(run.place, match.place).distance_m);
      }
    }
    if (std::isfinite(nearest)) {
      apart.push_back(nearest);
    }
  }
  std::sort(apart.begin(), apart.end());
  return apart.empty() ? std::numeric_limits<double>::quiet_NaN() : apart[apart.size() / 2];
}

bool is_finite(const Road& road) {
  return std::isfinite(road.middle.lat_deg + road.middle.lon_deg + road.heading_deg + road.length_m);
}

/// Weak ones up a slope may be full throttle.
std::string left_out_words(const Side& side) {
  std::size_t gentle = 0;
  for (const Ride& ride : side.rides) {
    gentle +=
        static_cast<std::size_t>(std::count_if(ride.runs.rejected.begin(), ride.runs.rejected.end(),
                                               [](const Rejected& start) { return start.code == "gentle"; }));
  }
  return gentle == 0
             ? ""
             : fmt::format(", or see whether of {} left out as gentle some are full throttle the other way",
                           gentle == 1 ? "1 start" : fmt::format("{} starts", gentle));
}

void warn_pairs(const Side& side, std::vector<Note>& warnings) {
  std::size_t runs = 0;
  for (const Ride& ride : side.rides) {
    runs += ride.runs.accepted.size();
  }
  if (side.pairs.made.empty()) {
    warnings.push_back(
        {"no-pairs",
         runs == 0
             ? fmt::format("{}: no run was found, so nothing can be compared", side.name)
             : fmt::format("{}: only one-way runs, so slope and wind are in them and they are not compared; "
                           "ride the same stretch both ways{}",
                           side.name, left_out_words(side)),
         0});
  } else if (!side.pairs.single.empty()) {
    warnings.push_back({"runs-left-out",
                        fmt::format("{}: {} of {} runs have no partner the other way and take no part",
                                    side.name, side.pairs.single.size(), runs),
                        0});
  }
}

void warn_road(const Side& before, const Side& after, std::vector<Note>& warnings) {
  const std::vector<Road> a = roads_of(before);
  const std::vector<Road> b = roads_of(after);
  const auto elsewhere = std::count_if(b.begin(), b.end(), [&](const Road& road) {
    return is_finite(road) && std::none_of(a.begin(), a.end(), [&](const Road& other) {
             return is_finite(other) && is_same_road(road, other);
           });
  });
  if (!a.empty() && elsewhere > 0) {
    warnings.push_back(
        {"other-road",
         fmt::format("{} of {} pairs of {} were ridden on another stretch of road than those of {}: "
                     "surface and shape of the road may be the difference",
                     elsewhere, b.size(), after.name, before.name),
         0});
  } else if (const double shift_m = apart_m(beginnings_of(after), beginnings_of(before));
             shift_m > same_start_m) {
    warnings.push_back(
        {"other-starts",
         fmt::format(
             "the runs of {} began some {:.0f} m from those of {}: the road slopes differently there, which "
             "makes the ± wider; begin each way at the same mark",
             after.name, shift_m, before.name),
         0});
  }
  // Which way came first matters where engine, tank or wind change while riding.
  const auto first_share = [&](const std::vector<Road>& roads) {
    const auto along = std::count_if(roads.begin(), roads.end(), [&](const Road& road) {
      return angle_between_deg(road.heading_deg, a.front().heading_deg) < 90.0;
    });
    return static_cast<double>(along) / static_cast<double>(roads.size());
  };
  if (a.size() > 1 && b.size() > 1 && std::abs(first_share(a) - first_share(b)) > 0.5) {
    warnings.push_back(
        {"direction-order",
         fmt::format("{} and {} mostly began their pairs in opposite directions: what changes while "
                     "riding does not cancel alike",
                     before.name, after.name),
         0});
  }
}

double median_rate_hz(const Side& side) {
  std::vector<double> rates;
  for (const Ride& ride : side.rides) {
    if (!ride.runs.accepted.empty()) {
      rates.push_back(ride.receiver.rate_hz);
    }
  }
  std::sort(rates.begin(), rates.end());
  return rates.empty() ? 0.0 : rates[rates.size() / 2];
}

bool uses(const Side& side, SpeedSource source) {
  return std::any_of(side.rides.begin(), side.rides.end(),
                     [&](const Ride& ride) { return !ride.runs.accepted.empty() && ride.source == source; });
}

void warn_receiver(const Side& before, const Side& after, std::vector<Note>& warnings) {
  const double a = median_rate_hz(before);
  const double b = median_rate_hz(after);
  if (!(a > 0.0 && b > 0.0)) {
    return;  // a side without runs differs in nothing
  }
  if (std::max(a, b) > same_rate * std::min(a, b)) {
    warnings.push_back(
        {"other-rate",
         fmt::format("the receiver of {} gives {:.3g} {} a second, that of {} {:.3g}: what a "
                     "receiver smears is not the same on both sides; use one for both",
                     before.name, a, fmt::format("{:.3g}", a) == "1" ? "fix" : "fixes", after.name, b),
         0});
  }
  for (const SpeedSource source : {SpeedSource::reported, SpeedSource::positions}) {
    if (uses(before, source) != uses(after, source)) {
      warnings.push_back(
          {"other-source",
           "one side has speeds from the receiver, the other from differences of positions: their "
           "errors are not alike; use one receiver and one log format for both",
           0});
      break;
    }
  }
}

bool is_dated(const Side& side) {
  return std::none_of(side.rides.begin(), side.rides.end(),
                      [](const Ride& ride) { return !ride.runs.accepted.empty() && !ride.dated; });
}

void warn_days(const Side& before, const Side& after, const DaysOfSides& days, std::vector<Note>& warnings) {
  const std::set<int> a(days.before.begin(), days.before.end());
  const std::set<int> b(days.after.begin(), days.after.end());
  if (a.empty() || b.empty()) {
    return;
  }
  if (a.size() == 1 && b.size() == 1 && a != b && !(is_dated(before) && is_dated(after))) {
    warnings.push_back({"other-days",
                        fmt::format("the logs do not say whether {} and {} were ridden on one day; they are "
                                    "taken for two days, which makes the ± wider",
                                    before.name, after.name),
                        0});
  } else if (a.size() == 1 && b.size() == 1 && a != b) {
    warnings.push_back(
        {"other-days",
         fmt::format("{} and {} were ridden on different days: what usually changes from day to day makes "
                     "the ± wider; ride both on one day if you can",
                     before.name, after.name),
         0});
  } else if ((a.size() > 1 || b.size() > 1) && !(is_dated(before) && is_dated(after))) {
    warnings.push_back({"several-days",
                        "the logs do not say on which days they were ridden; each is taken for a day of its "
                        "own, which makes the ± wider",
                        0});
  } else if (a.size() > 1 || b.size() > 1) {
    warnings.push_back(
        {"several-days",
         a == b
             ? fmt::format(
                   "both sides were ridden on the same {} days: the difference of each day is the unit",
                   a.size())
             : fmt::format("{} was ridden on {} and {} on {} days: each day has air and wind of its own, so "
                           "days count as well as pairs, and the ± allows for what differed between them{}",
                           before.name, a.size(), after.name, b.size(),
                           a.size() == 1 || b.size() == 1 ? "; on one day it cannot be seen" : ""),
         0});
  }
}

}  // namespace

std::vector<Note> side_warnings(const Side& before, const Side& after, const DaysOfSides& days) {
  std::vector<Note> warnings;
  warn_pairs(before, warnings);
  warn_pairs(after, warnings);
  warn_road(before, after, warnings);
  warn_receiver(before, after, warnings);
  warn_days(before, after, days, warnings);
  return warnings;
}

}  // namespace bothways
