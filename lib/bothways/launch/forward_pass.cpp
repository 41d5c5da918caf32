#include "bothways/launch/forward_pass.hpp"

#include "bothways/launch/measurement.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::Gaussian;
using numeric::Normal;

namespace {

constexpr double impossible = -1e300;

/// Number of readings up to a time.
std::size_t readings_until(const LaunchWindow& window, double t_s) {
  const auto after = std::upper_bound(window.readings.begin(), window.readings.end(), t_s,
                                      [](double t, const Reading& reading) { return t < reading.t_s; });
  return static_cast<std::size_t>(after - window.readings.begin());
}

/// Takes one reading near rest into the state: its sign unknown, left-censored in the dead band. Returns log
/// p(reading | those before).
double update_near_rest(const BackwardPass& pass, const Reading& reading, Gaussian& x) {
  const LaunchModel& model = pass.model;
  const Normal predicted = numeric::predicted_measurement(x, pass.row, variance_in_motion(pass, reading));
  if (reading.kind == Reading::Kind::censored) {
    return log_censored(model.dead_band, predicted);
  }
  const LengthPosterior length =
      length_posterior(not_rounded_away(reading.z, model), predicted, model.rest_axes);
  x = numeric::update(x, pass.row, predicted, length.part);
  return length.log_density + log_not_censored(model.dead_band, {std::max(predicted.mean, reading.z),
                                                                 variance_in_motion(pass, reading)});
}

/// State at the first time after the launch.
Gaussian state_after_launch(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  return numeric::predict(launch_prior(pass, shape, t0_s), transition_from_launch(pass, t0_s),
                          expected_jerk(pass, shape, t0_s, first_after(pass, t0_s)));
}

double log_likelihood_of(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  const LaunchWindow& window = pass.window;
  std::size_t k = first_after(pass, t0_s);
  double total = window.at_rest.log_likelihood[readings_until(window, t0_s)];
  Gaussian x = state_after_launch(pass, shape, t0_s);
  const std::size_t until = pass.model.positions ? k : pass.grid.moving;  // positions are plain Gaussian
  for (; k < until; ++k) {
    if (pass.grid.reading[k] >= 0) {
      const Reading& reading = window.readings[static_cast<std::size_t>(pass.grid.reading[k])];
      if (reading.kind != Reading::Kind::excluded) {
        total += update_near_rest(pass, reading, x);
      }
    }
    x = numeric::predict(x, pass.step[k], expected_jerk(pass, shape, t0_s, k + 1));
  }
  return total + numeric::log_likelihood(x, information_with_shape(pass, shape, t0_s, k).front());
}

}  // namespace

Gaussian launch_prior(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  const SlowError& known = pass.window.at_rest.slow_error[readings_until(pass.window, t0_s)];
  const Normal slow = slow_error_at(known, t0_s, pass.model.motion);
  Gaussian prior;
  prior.mean(numeric::i_a) = shape.at(0.0);
  prior.cov(numeric::i_a, numeric::i_a) = shape.sd_mps2 * shape.sd_mps2;
  prior.mean(numeric::i_e) = slow.mean;
  prior.cov(numeric::i_e, numeric::i_e) = slow.variance;
  return prior;
}

numeric::Transition transition_from_launch(const BackwardPass& pass, double t0_s) {
  const std::size_t first = first_after(pass, t0_s);
  return numeric::transition_of(pass.model.motion, pass.grid.t_s[first] - t0_s, pass.grid.jerk_factor[first]);
}

double launch_log_likelihood(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  const double log_likelihood = log_likelihood_of(pass, shape, t0_s);
  return std::isfinite(log_likelihood) ? log_likelihood : impossible;
}

}  // namespace bothways
