#include "bothways/run/road_line.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr double least_length_m = 20.0;    // positions stray by metres
constexpr double same_way_cosine = 0.906;  // of 25 degrees
constexpr double apart_m = 30.0;           // two carriageways, and positions that stray
constexpr double roll_out_m = 200.0;       // a run rolls out before it turns back

double cosine(const RoadLine& a, const RoadLine& b) {
  return a.along_east * b.along_east + a.along_north * b.along_north;
}

}  // namespace

std::optional<RoadLine> road_line(const SpeedSeries& series, const StandingStart& start) {
  const Stretch& s = series.stretches[start.stretch];
  const double east_m = s.east_m[start.end] - s.east_m[start.rest_end];
  const double north_m = s.north_m[start.end] - s.north_m[start.rest_end];
  const double length_m = std::hypot(east_m, north_m);
  if (!(length_m >= least_length_m)) {  // nor NaN
    return std::nullopt;
  }
  return RoadLine{s.east_m[start.rest_end], s.north_m[start.rest_end], east_m / length_m, north_m / length_m,
                  length_m};
}

bool go_one_way(const RoadLine& a, const RoadLine& b) {
  return cosine(a, b) > same_way_cosine;
}

bool go_opposite_ways(const RoadLine& a, const RoadLine& b) {
  return cosine(a, b) < -same_way_cosine;
}

bool on_one_road(const RoadLine& a, const RoadLine& b) {
  const double east_m = b.east_m - a.east_m;
  const double north_m = b.north_m - a.north_m;
  const double begin = east_m * a.along_east + north_m * a.along_north;
  const double end = begin + b.length_m * cosine(a, b);
  if (std::abs(cosine(a, b)) < same_way_cosine) {
    return false;
  }
  if (std::min(begin, end) > a.length_m + roll_out_m || std::max(begin, end) < -roll_out_m) {
    return false;
  }
  // Across the line, where the two are side by side or nearest to each other.
  const double from = std::clamp(std::min(begin, end), 0.0, a.length_m);
  const double to = std::clamp(std::max(begin, end), 0.0, a.length_m);
  const double share = std::clamp((0.5 * (from + to) - begin) / (end - begin), 0.0, 1.0);
  const double off_m = north_m * a.along_east - east_m * a.along_north +
                       share * b.length_m * (b.along_north * a.along_east - b.along_east * a.along_north);
  return std::abs(off_m) < apart_m;
}

}  // namespace bothways
