#include "bothways/numeric/track.hpp"

#include "bothways/numeric/information.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways::numeric {

namespace {

constexpr double same_step_s = 1e-6;  // stamps are in microseconds

Gaussian prior_of(const TrackNoise& noise) {
  Gaussian prior;
  prior.cov(i_s, i_s) = 100.0;
  prior.cov(i_v, i_v) = 900.0;
  prior.cov(i_a, i_a) = 9.0;
  prior.cov(i_e, i_e) = noise.drift_sd * noise.drift_sd;
  return prior;
}

Measurement reading_of(double place_m, const TrackNoise& noise) {
  return {position_row(), place_m, noise.white_sd * noise.white_sd};
}

/// What the readings of both axes say of the first state, and how it goes on from there. The axes have the
/// same noise at the same times, so the same matrices.
struct BackwardPass {
  Information east;
  Information north;
  std::vector<SmoothedTransition> step;  ///< (n - 1) of the east axis
  std::vector<State> north_b;            ///< (n - 1) b of the north axis
};

BackwardPass backward_pass(const std::vector<double>& t_s, const std::vector<double>& east_m,
                           const std::vector<double>& north_m, const TrackNoise& noise) {
  const std::size_t n = t_s.size();
  const MotionModel model{noise.jerk_density, {}, noise.drift_sd, noise.drift_time_s};
  const State no_input = State::Zero();
  BackwardPass pass;
  pass.step.resize(n - 1);
  pass.north_b.resize(n - 1);
  Transition step;
  double last_dt = 0.0;
  for (std::size_t k = n; k-- > 0;) {
    if (k + 1 < n) {
      const double dt = t_s[k + 1] - t_s[k];
      if (std::abs(dt - last_dt) > same_step_s) {
        step = transition_of(model, dt);
        last_dt = dt;
      }
      const BackwardGain gain = backward_gain(step, pass.east.matrix);
      pass.step[k] = smoothed_transition(gain, pass.east, no_input);
      pass.north_b[k] = gain.c * pass.north.vector;
      pass.east = predict_back(gain, pass.east, no_input);
      pass.north = predict_back(gain, pass.north, no_input);
    }
    pass.east = update(pass.east, reading_of(east_m[k] - east_m.front(), noise));
    pass.north = update(pass.north, reading_of(north_m[k] - north_m.front(), noise));
  }
  return pass;
}

}  // namespace

TrackVelocity smooth_track(const std::vector<double>& t_s, const std::vector<double>& east_m,
                           const std::vector<double>& north_m, const TrackNoise& noise) {
  const std::size_t n = t_s.size();
  const BackwardPass pass = backward_pass(t_s, east_m, north_m, noise);
  const Gaussian prior = prior_of(noise);
  Gaussian east = combine(prior, pass.east).state;
  State north = combine(prior, pass.north).state.mean;
  TrackVelocity out;
  for (auto* column : {&out.east_mps, &out.north_mps, &out.sd_mps}) {
    column->reserve(n);
  }
  for (std::size_t k = 0; k < n; ++k) {
    out.east_mps.push_back(east.mean(i_v));
    out.north_mps.push_back(north(i_v));
    out.sd_mps.push_back(std::sqrt(std::max(east.cov(i_v, i_v), 1e-8)));
    if (k + 1 < n) {
      east = predict(east, pass.step[k]);
      north = pass.step[k].a * north + pass.north_b[k];
    }
  }
  return out;
}

}  // namespace bothways::numeric
