#include "bothways/numeric/track.hpp"

#include "bothways/numeric/backward.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways::numeric {

TrackVelocity smooth_track(const std::vector<double>& t_s, const std::vector<double>& x_m,
                           const TrackNoise& noise) {
  const std::size_t n = t_s.size();
  const Motion motion{noise.jerk_density, 0.0, noise.drift_sd, noise.drift_time_s};
  const State h = reading_of_position();
  const double variance = noise.white_sd * noise.white_sd;
  const double origin = x_m.front();
  std::vector<Information> info(n);
  std::vector<Conditional> forward(n - 1);
  add_reading(info[n - 1], h, x_m[n - 1] - origin, variance);
  Step step;
  double last_dt = 0.0;
  for (std::size_t k = n - 1; k-- > 0;) {
    const double dt = t_s[k + 1] - t_s[k];
    if (std::abs(dt - last_dt) > 1e-6) {
      step = step_of(motion, dt);
      last_dt = dt;
    }
    const Carried carried = carry_back(step, info[k + 1]);
    forward[k] = carried.forward;
    info[k] = carried.before;
    add_reading(info[k], h, x_m[k] - origin, variance);
  }
  Gaussian prior;
  prior.cov(i_s, i_s) = 100.0;
  prior.cov(i_v, i_v) = 900.0;
  prior.cov(i_a, i_a) = 9.0;
  prior.cov(i_e, i_e) = noise.drift_sd * noise.drift_sd;
  Gaussian belief = join(prior, info.front()).posterior;
  TrackVelocity out;
  out.v_mps.reserve(n);
  out.sd_mps.reserve(n);
  for (std::size_t k = 0; k < n; ++k) {
    out.v_mps.push_back(belief.mean(i_v));
    out.sd_mps.push_back(std::sqrt(std::max(belief.cov(i_v, i_v), 1e-8)));
    if (k + 1 < n) {
      belief = go_on(belief, forward[k]);
    }
  }
  return out;
}

}  // namespace bothways::numeric
