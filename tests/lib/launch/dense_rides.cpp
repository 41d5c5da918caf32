#include "lib/launch/dense_rides.hpp"

#include "support/simulate/random.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr double launch_s = 3.05;
constexpr double first_moving_s = 3.1;

/// Readings of 3.4 m/s^2 that fall off a little; at rest a speed is a length.
std::vector<Reading> readings_of(bool positions, double sd) {
  sim::Random random(11);
  std::vector<Reading> out;
  for (int i = 0; i <= 62; ++i) {
    Reading reading;
    // An uneven step now and then, and one long silence.
    reading.t_s = 0.1 * i + (i % 7 == 3 && i > 35 ? 0.013 : 0.0) + (i > 55 ? 0.3 : 0.0);
    const double tau_s = std::max(0.0, reading.t_s - launch_s);
    const double noise = sd * random.normal();
    if (positions) {
      reading.kind = Reading::Kind::position;
      reading.z = 1.7 * tau_s * tau_s - 0.05 * tau_s * tau_s * tau_s + noise;
    } else {
      reading.z = std::abs(3.4 * tau_s - 0.15 * tau_s * tau_s + noise);
    }
    reading.variance = sd * sd * (i % 5 == 0 ? 2.0 : 1.0);
    out.push_back(reading);
  }
  return out;
}

LaunchHypothesis creeping(double lag_s) {
  LaunchHypothesis h;
  h.shape.a_mps2 = {0.9, 0.9, 1.4, 2.6, 3.1};
  h.shape.sd_mps2 = 0.6;
  h.filter.lag_s = lag_s;
  h.early_jerk_factor = 6.0;
  return h;
}

LaunchHypothesis at_full(double lag_s) {
  LaunchHypothesis h;
  h.shape.a_mps2 = {3.0};
  h.shape.sd_mps2 = 1.0;
  h.filter.lag_s = lag_s;
  return h;
}

}  // namespace

DenseLaunch DenseCase::launch(std::size_t hypothesis) const {
  const LaunchHypothesis& h = hypotheses[hypothesis].hypothesis;
  DenseLaunch out{window, model, h.shape, h.early_jerk_factor};
  out.model.motion.filter = h.filter;
  return out;
}

/// Of speeds, what the filter at rest (tests/lib/launch/at_rest_test.cpp) knew at the last reading decays.
numeric::Normal DenseCase::slow_error(const DenseLaunch& launch, double t0_s) const {
  if (model.positions) {
    return dense_rest(launch, t0_s).slow_error;
  }
  std::size_t known = 0;
  while (window.readings[known].t_s <= t0_s) {
    ++known;
  }
  const SlowError& then = window.at_rest.slow_error[known];
  const double stationary = model.motion.slow_sd * model.motion.slow_sd;
  const double keep = std::exp(-(t0_s - then.t_s) / model.motion.slow_time_s);
  return {then.law.mean * keep, then.law.variance * keep * keep + stationary * (1.0 - keep * keep)};
}

double DenseCase::log_likelihood_at_rest(const DenseLaunch& launch, double t0_s) const {
  if (model.positions) {
    return dense_rest(launch, t0_s).log_likelihood;
  }
  std::size_t known = 0;
  while (window.readings[known].t_s <= t0_s) {
    ++known;
  }
  return window.at_rest.log_likelihood[known];
}

DenseCase dense_case(const std::string& name, bool positions, double lag_s, double slow_sd,
                     double earlier_s) {
  const double sd = positions ? 0.03 : 0.05;
  DenseCase out;
  out.name = name;
  out.model.motion = {6.0, {}, slow_sd, positions ? 20.0 : 4.0};
  out.model.positions = positions;
  out.model.rest_sd = std::hypot(sd, positions ? 0.0 : slow_sd);
  out.model.white_factor = positions ? 1.0 : 1.3;
  out.model.unseen_creep_s = 0.2;
  out.window = launch_window(readings_of(positions, sd),
                             {first_moving_s - earlier_s, first_moving_s, first_moving_s + 0.5}, out.model);
  out.hypotheses = {{creeping(lag_s), 0.7, 0.7}, {at_full(lag_s), 0.3, 0.3}};
  return out;
}

std::vector<DenseCase> dense_cases() {
  DenseCase astray = dense_case("positions that go astray", true, 0.0, 0.8, 0.6);
  astray.model.motion.stray_sd = 0.3;
  astray.model.motion.stray_time_s = 1.8;
  astray.model.launch_stray_variance = 0.15;
  DenseCase tracker = dense_case("speeds of a tracker of acceleration", false, 0.2, 0.06);
  for (WeightedHypothesis& weighted : tracker.hypotheses) {
    weighted.hypothesis.filter.tracks_acceleration = true;
  }
  DenseCase mean = dense_case("speeds of a mean over readings", false, 1.6, 0.06);
  for (WeightedHypothesis& weighted : mean.hypotheses) {
    weighted.hypothesis.filter.feedthrough = 0.6;
  }
  return {astray,
          tracker,
          mean,
          dense_case("speeds, white noise", false, 0.0, 1e-3),
          dense_case("speeds, slow error", false, 0.0, 0.06),
          dense_case("speeds that lag", false, 0.2, 1e-3),
          dense_case("speeds that lag, slow error", false, 0.2, 0.06),
          dense_case("positions that drift", true, 0.0, 0.8, 0.6),
          dense_case("positions, white noise", true, 0.0, 1e-3, 0.6)};
}

}  // namespace bothways
