#pragma once

#include "bothways/run/detect.hpp"
#include "bothways/speed/series.hpp"

#include <optional>

namespace bothways {

/// The straight line from where a start stood to its lift, m on the plane of its series.
struct RoadLine {
  double east_m = 0.0;
  double north_m = 0.0;
  double along_east = 0.0;  ///< unit vector
  double along_north = 0.0;
  double length_m = 0.0;  ///< > 0
};

/// Nothing where there are no positions, or the line is too short to have a direction (20 m).
[[nodiscard]] std::optional<RoadLine> road_line(const SpeedSeries& series, const StandingStart& start);

/// Whether two go in one direction, to 25 degrees.
[[nodiscard]] bool go_one_way(const RoadLine& a, const RoadLine& b);

/// Whether one goes back the way of the other, to 25 degrees.
[[nodiscard]] bool go_opposite_ways(const RoadLine& a, const RoadLine& b);

/// Whether two run on one piece of road: side by side over half of the shorter, and within 30 m of each
/// other.
[[nodiscard]] bool on_one_road(const RoadLine& a, const RoadLine& b);

}  // namespace bothways
