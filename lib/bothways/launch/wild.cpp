#include "bothways/launch/model.hpp"
#include "bothways/numeric/motion.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::State;

namespace {

struct Worst {
  int reading = -1;
  double sds = 0.0;
};

/// The reading farthest from its prediction by all others (leave-one-out residual of the smoother).
Worst worst_reading(const LaunchFit& fit, const LaunchWindow& window, const LaunchModel& model) {
  const LaunchNode& node = fit.nodes.front();
  const LaunchTimes& times = *fit.times;
  const State h = model.positions ? numeric::reading_of_position() : numeric::reading_of_speed(model.motion);
  numeric::StateMatrix cov = numeric::go_on(node.start, node.entry).cov;  // the means know the shape
  Worst worst;
  for (std::size_t k = node.first; k < times.t_s.size(); ++k) {
    const int index = times.reading[k];
    if (index >= 0) {
      const Reading& reading = window.readings[static_cast<std::size_t>(index)];
      const bool fast = times.t_s[k] >= window.range.latest_s || reading.z > 5.0 * model.standing_sd;
      const bool usable =
          (reading.kind == Reading::Kind::speed && fast) || reading.kind == Reading::Kind::position;
      const double left = reading.variance - h.dot(cov * h);
      if (usable && left > 0.0) {
        const double sds = std::abs(reading.z - h.dot(node.mean[k - node.first])) / std::sqrt(left);
        if (sds > worst.sds) {
          worst = {index, sds};
        }
      }
    }
    if (k + 1 < times.t_s.size()) {
      cov = numeric::spread_on(cov, times.forward[k]);
    }
  }
  return worst;
}

}  // namespace

std::size_t drop_wild_readings(LaunchWindow& window, const LaunchModel& model, double sds, std::size_t most) {
  std::size_t dropped = 0;
  while (dropped < most) {
    const LaunchFit fit = fit_launch(window.readings, model, window.range, {12, 0, false});
    const Worst worst = worst_reading(fit, window, model);
    if (worst.reading < 0 || worst.sds < sds) {
      break;
    }
    window.readings[static_cast<std::size_t>(worst.reading)].kind = Reading::Kind::none;
    ++dropped;
  }
  return dropped;
}

}  // namespace bothways
