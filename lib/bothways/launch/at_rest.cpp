#include "bothways/launch/at_rest.hpp"

#include "bothways/launch/measurement.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::HiddenMarkovChain;
using numeric::Normal;

namespace {

constexpr double highest_sds = 3.6;        // of the levels, in sd of the slow error
constexpr double least_white_share = 0.2;  // of the variance at rest
constexpr double least_slow_share = 0.01;
constexpr double jolt_share = 0.02;  // a jolt of the stand or a stray reading must not decide
constexpr double jolt_sds = 4.0;
constexpr double settling_s = 2.0;  // what was read longer ago says little of the slow error now
constexpr double level_sds = highest_sds / HiddenMarkovChain::levels;

double slow_variance_at_rest(const LaunchModel& model) {
  const double rest = model.rest_sd * model.rest_sd;
  return std::clamp(model.motion.slow_sd * model.motion.slow_sd, least_slow_share * rest,
                    (1.0 - least_white_share) * rest);
}

/// Half-normal (one noise) or Rayleigh (two), moving as fast as a Gauss-Markov process of the slow error's
/// correlation time diffuses over one level.
HiddenMarkovChain chain_of(const LaunchModel& model) {
  HiddenMarkovChain::Levels stationary;
  for (int i = 0; i < HiddenMarkovChain::levels; ++i) {
    const double u = (i + 0.5) * level_sds;
    stationary(i) = (model.rest_axes == 2 ? u : 1.0) * std::exp(-0.5 * u * u);
  }
  return {stationary, 1.0 / (model.motion.slow_time_s * level_sds * level_sds)};
}

RestFilter filter_speeds(const std::vector<Reading>& readings, const LaunchRange& range,
                         const LaunchModel& model) {
  RestSpeedFilter filter(model);
  RestFilter out;
  double total = 0.0;
  SlowError slow{{0.0, model.motion.slow_sd * model.motion.slow_sd}, 0.0};
  out.log_likelihood.push_back(total);
  out.slow_error.push_back(slow);
  for (const Reading& reading : readings) {
    if (reading.t_s > range.latest_s) {
      break;
    }
    if (reading.t_s >= range.earliest_s - settling_s) {
      total += filter.update(reading);
    }
    if (reading.kind != Reading::Kind::excluded) {
      slow = {{0.0, filter.slow_variance()}, reading.t_s};
    }
    out.log_likelihood.push_back(total);
    out.slow_error.push_back(slow);
  }
  return out;
}

RestFilter filter_positions(const std::vector<Reading>& readings, const LaunchRange& range,
                            const LaunchModel& model) {
  RestFilter out;
  double total = 0.0;
  SlowError slow{{0.0, model.motion.slow_sd * model.motion.slow_sd},
                 readings.empty() ? 0.0 : readings.front().t_s};
  out.log_likelihood.push_back(total);
  out.slow_error.push_back(slow);
  for (const Reading& reading : readings) {
    if (reading.t_s > range.latest_s) {
      break;
    }
    if (reading.kind == Reading::Kind::position) {
      const Normal now = slow_error_at(slow, reading.t_s, model.motion);
      const double s = now.variance + reading.variance;
      total += numeric::log_density({now.mean, s}, reading.z);
      const double gain = now.variance / s;
      slow = {{now.mean + gain * (reading.z - now.mean), now.variance * (1.0 - gain)}, reading.t_s};
    }
    out.log_likelihood.push_back(total);
    out.slow_error.push_back(slow);
  }
  return out;
}

}  // namespace

Normal slow_error_at(const SlowError& known, double t_s, const numeric::MotionModel& motion) {
  const double stationary = motion.slow_sd * motion.slow_sd;
  const double keep = std::exp(-std::max(0.0, t_s - known.t_s) / motion.slow_time_s);
  return {known.law.mean * keep, stationary + (known.law.variance - stationary) * keep * keep};
}

RestFilter filter_at_rest(const std::vector<Reading>& readings, const LaunchRange& range,
                          const LaunchModel& model) {
  return model.positions ? filter_positions(readings, range, model) : filter_speeds(readings, range, model);
}

RestSpeedFilter::RestSpeedFilter(const LaunchModel& model)
    : model_(model),
      white_variance_(without_rounding(model.rest_sd * model.rest_sd - slow_variance_at_rest(model) +
                                           model.resolution_mps * model.resolution_mps / 12.0,
                                       model)),  // rounding to 0 hides noise
      step_mps_(level_sds * std::sqrt(slow_variance_at_rest(model))),
      chain_(chain_of(model)) {}

double RestSpeedFilter::update(const Reading& reading) {
  if (any_) {
    chain_.predict(reading.t_s - t_s_);
  }
  any_ = true;
  t_s_ = reading.t_s;
  if (reading.kind != Reading::Kind::speed) {
    return 0.0;
  }
  const double z = reading.z;
  const double jolt =
      jolt_share * at_rest_density(z, 0.0, jolt_sds * jolt_sds * model_.rest_sd * model_.rest_sd);
  HiddenMarkovChain::Levels likelihood;
  for (int i = 0; i < HiddenMarkovChain::levels; ++i) {
    likelihood(i) = (1.0 - jolt_share) * at_rest_density(z, (i + 0.5) * step_mps_, white_variance_) + jolt;
  }
  return std::log(chain_.update(likelihood)) +
         log_not_censored(model_.dead_band, {0.0, model_.rest_sd * model_.rest_sd});
}

double RestSpeedFilter::at_rest_density(double z, double slow_mps, double variance) const {
  return std::exp(
      written_length_posterior(z, {{slow_mps, variance}, {0.0, 0.0}, variance}, model_).log_density);
}

double RestSpeedFilter::slow_variance() const {
  double squares = 0.0;
  for (int i = 0; i < HiddenMarkovChain::levels; ++i) {
    const double level = (i + 0.5) * step_mps_;
    squares += chain_.probability()(i) * level * level;
  }
  return squares / model_.rest_axes;
}

}  // namespace bothways
