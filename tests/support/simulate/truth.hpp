#pragma once

#include "bothways/core/geodesy.hpp"
#include "bothways/core/split_spec.hpp"
#include "bothways/run/run.hpp"
#include "support/simulate/road.hpp"
#include "support/simulate/script.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace bothways::sim {

/// State of the ride at one instant. Between rows: cubics through v, a and s, v.
struct TruthRow {
  double t_s = 0.0;
  double v_mps = 0.0;
  double a_mps2 = 0.0;
  double s_m = 0.0;         ///< travel since the ride began
  double x_m = 0.0;         ///< along the road
  double y_m = 0.0;         ///< to the left of it
  double course_rad = 0.0;  ///< against the road's x axis, positive to the left
};

/// One opening of the throttle, as it was.
struct TrueStart {
  StartKind kind = StartKind::run;
  double movement_s = 0.0;    ///< first movement (rolling, jab: throttle opened)
  double foot_s = 0.0;        ///< after 0.3048 m of travel
  double lift_s = 0.0;        ///< throttle closed
  double top_mps = 0.0;       ///< speed there
  double heading_deg = 0.0;   ///< of travel, clockwise from true north
  double s_m = 0.0;           ///< travel of the ride at movement_s
  std::size_t first_row = 0;  ///< of Truth::rows, at movement_s
  std::size_t last_row = 0;   ///< at lift_s

  [[nodiscard]] bool standing() const { return kind != StartKind::rolling && kind != StartKind::jab; }
};

/// A ride as it was. Times in seconds from the beginning of the ride, good to 1e-4 s.
struct Truth {
  Road road;
  std::vector<TruthRow> rows;  ///< rising in t_s
  std::vector<TrueStart> starts;

  [[nodiscard]] double duration_s() const { return rows.back().t_s; }
};

/// Reads a Truth at rising times without searching.
class TruthReader {
 public:
  explicit TruthReader(const Truth& truth) : truth_(&truth) {}
  /// State at t_s (clamped to the ride); quick if t_s rises from call to call.
  [[nodiscard]] TruthRow at(double t_s);

 private:
  const Truth* truth_;
  std::size_t row_ = 0;
};

/// First instant after the start at which the speed or the distance from the start is reached, before the
/// throttle is closed; nothing if it is not.
[[nodiscard]] std::optional<double> crossing_s(const Truth& truth, const TrueStart& start, const Mark& mark);

/// The split as it truly was, s. A distance is counted from the place of first movement.
[[nodiscard]] std::optional<double> true_split_s(const Truth& truth, const TrueStart& start,
                                                 const SplitSpec& spec, Clock clock);

/// Place on the earth of a state; the plane's origin is the road's.
[[nodiscard]] LatLon place_of(const LocalPlane& plane, const Road& road, const TruthRow& row);
/// Course over ground, clockwise from true north, 0..360.
[[nodiscard]] double course_deg(const Road& road, const TruthRow& row);

}  // namespace bothways::sim
