#include "lib/launch/starts.hpp"

#include "support/simulate/random.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace bothways {

LaunchWindow start_of(const std::function<double(double)>& v_mps, double sd_mps, std::uint64_t seed) {
  sim::Random random(seed);
  std::vector<Reading> readings;
  LaunchRange range;
  for (int i = 0; i <= 70; ++i) {
    Reading reading;
    reading.t_s = 0.1 * i;
    const double along = sd_mps * random.normal();
    const double across = sd_mps * random.normal();
    reading.z = std::hypot(v_mps(reading.t_s) + along, across);
    reading.variance = sd_mps * sd_mps;
    if (reading.z > 0.5 && range.latest_s == 0.0) {
      range.latest_s = reading.t_s;
    }
    readings.push_back(reading);
  }
  range.earliest_s = range.latest_s - 1.5;
  range.early_end_s = range.latest_s + 0.5;
  return launch_window(std::move(readings), range, model_for(sd_mps));
}

LaunchWindow constant_start(double t0_s, double a_mps2, double sd_mps, std::uint64_t seed) {
  return start_of([&](double t_s) { return a_mps2 * std::max(0.0, t_s - t0_s); }, sd_mps, seed);
}

LaunchModel model_for(double sd_mps) {
  LaunchModel model;
  model.motion.slow_sd = 1e-3;
  model.rest_sd = sd_mps;
  model.rest_axes = 2;
  return model;
}

LaunchHypothesis at_once() {
  LaunchHypothesis h;
  h.shape.a_mps2 = {3.0};
  h.shape.sd_mps2 = 1.0;
  return h;
}

}  // namespace bothways
