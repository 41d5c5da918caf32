#include "lib/launch/starts.hpp"

#include "bothways/launch/standing.hpp"
#include "support/simulate/random.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

Start constant_start(double t0_s, double a_mps2, double sd_mps, std::uint64_t seed) {
  sim::Random random(seed);
  Start out;
  for (int i = 0; i <= 70; ++i) {
    Reading reading;
    reading.t_s = 0.1 * i;
    const double v_mps = a_mps2 * std::max(0.0, reading.t_s - t0_s);
    const double along = sd_mps * random.normal();
    const double across = sd_mps * random.normal();
    reading.z = std::hypot(v_mps + along, across);
    reading.variance = sd_mps * sd_mps;
    if (reading.z > 0.5 && out.range.latest_s == 0.0) {
      out.range.latest_s = reading.t_s;
    }
    out.readings.push_back(reading);
  }
  out.range.earliest_s = out.range.latest_s - 1.5;
  out.range.early_end_s = out.range.latest_s + 0.5;
  read_at_rest(out.readings, model_for(sd_mps), out.range);
  return out;
}

LaunchModel model_for(double sd_mps) {
  LaunchModel model;
  model.motion.slow_sd = 1e-3;
  model.standing_sd = sd_mps;
  model.standing_axes = 2;
  model.shape.a_mps2 = {3.0};
  model.shape.sd_mps2 = 1.0;
  return model;
}

}  // namespace bothways
