#include "bothways/numeric/kalman.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways::numeric {

double log_density(const Normal& law, double x) {
  const double off = x - law.mean;
  return -0.5 * (off * off / law.variance + std::log(2.0 * std::numbers::pi * law.variance));
}

Gaussian predict(const Gaussian& x, const Transition& step, double jerk) {
  return {predicted_mean(x.mean, step, jerk), predicted_cov(x.cov, step)};
}

State predicted_mean(const State& mean, const Transition& step, double jerk) {
  return step.f * mean + step.g * jerk;
}

StateMatrix predicted_cov(const StateMatrix& cov, const Transition& step) {
  const StateMatrix fp = step.f * cov;
  StateMatrix out = step.q;
  out.noalias() += fp * step.f.transpose();
  return out;
}

Normal predicted_measurement(const Gaussian& x, const State& row, double variance) {
  return {row.dot(x.mean), row.dot(x.cov * row) + variance};
}

Gaussian update(const Gaussian& x, const State& row, const Normal& predicted, const Normal& known) {
  const State gain = x.cov * row / predicted.variance;
  const double known_less = std::max(predicted.variance - known.variance, 0.0);
  return {x.mean + gain * (known.mean - predicted.mean), x.cov - known_less * gain * gain.transpose()};
}

}  // namespace bothways::numeric
