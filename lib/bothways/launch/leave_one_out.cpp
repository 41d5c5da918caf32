#include "bothways/launch/leave_one_out.hpp"

#include "bothways/launch/posterior.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace bothways {

namespace {

constexpr LaunchGrid instant_grid{12, 9};  // an instant off by 0.05 s makes outliers of good readings
constexpr double surely_moving_sds = 5.0;  // of the noise at rest

struct Residual {
  std::size_t reading = 0;
  double sds = 0.0;
};

/// In the launch a reading has a say here only if it surely moves; dead bands and exclusions have none.
bool is_judged(const Reading& reading, const LaunchWindow& window, const LaunchModel& model) {
  const bool moves = reading.t_s >= window.range.latest_s || reading.z > surely_moving_sds * model.rest_sd;
  return (reading.kind == Reading::Kind::speed && moves) || reading.kind == Reading::Kind::position;
}

/// Leave-one-out residual of a reading on the smoothed path, in sd of it: the residual's own variance is that
/// of the reading less what the smoothed state took from it.
double residual_sds(const SmoothedPath& path, std::size_t point, const numeric::State& row,
                    const Reading& reading, const LaunchModel& model) {
  const double left = reading.variance * model.white_factor - row.dot(path.cov[point] * row);
  return left > 0.0 ? std::abs(reading.z - row.dot(path.mean[point])) / std::sqrt(left) : 0.0;
}

Residual worst_residual(const SmoothedPath& path, const LaunchWindow& window, const LaunchModel& model,
                        double lag_s) {
  numeric::MotionModel motion = model.motion;
  motion.lag_s = lag_s;
  const numeric::State row = model.positions ? numeric::position_row() : numeric::speed_row(motion);
  Residual worst;
  std::size_t point = 1;
  for (std::size_t i = 0; i < window.readings.size(); ++i) {
    const Reading& reading = window.readings[i];
    while (point + 1 < path.t_s.size() && path.t_s[point] < reading.t_s) {
      ++point;
    }
    if (path.t_s[point] != reading.t_s || !is_judged(reading, window, model)) {
      continue;
    }
    const double sds = residual_sds(path, point, row, reading, model);
    if (sds > worst.sds) {
      worst = {i, sds};
    }
  }
  return worst;
}

}  // namespace

ScreenedWindow without_outliers(LaunchWindow window, const LaunchModel& model,
                                const LaunchHypothesis& hypothesis, double sds, std::size_t most) {
  ScreenedWindow out{std::move(window), 0};
  while (out.outliers < most) {
    const SmoothedPath path = likeliest_path(out.window, model, hypothesis, instant_grid);
    const Residual worst = worst_residual(path, out.window, model, hypothesis.lag_s);
    if (worst.sds < sds) {
      break;
    }
    out.window.readings[worst.reading].kind = Reading::Kind::excluded;
    ++out.outliers;
  }
  return out;
}

}  // namespace bothways
