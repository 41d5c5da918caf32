#include "bothways/launch/forward_pass.hpp"

#include "bothways/launch/measurement.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::Gaussian;
using numeric::Normal;

namespace {

constexpr double impossible = -1e300;
constexpr double least_known_less = 1e-6;  // of the variance: else the reading says nothing

/// The measurement of variance r whose Kalman update has the same effect as the moments of a length: with the
/// predicted variance S = h P h' + noise it takes S^2 / (S - S') = h P h' + r.
std::optional<numeric::Measurement> site_of(const BackwardPass& pass, const Normal& predicted, double noise,
                                            const Normal& part) {
  const double known_less = predicted.variance - part.variance;
  if (!(known_less > least_known_less * predicted.variance)) {
    return std::nullopt;
  }
  const double innovation = predicted.variance * predicted.variance / known_less;
  const double z = predicted.mean + (part.mean - predicted.mean) * innovation / predicted.variance;
  return numeric::Measurement{pass.row, z, innovation - (predicted.variance - noise)};
}

/// Across the road white noise and slow error are one.
ExpectedLength expected_length(const BackwardPass& pass, const Gaussian& x, const Normal& predicted,
                               double noise) {
  numeric::State speed_row = pass.row;
  speed_row(numeric::i_e) = 0.0;
  const double across = std::max(noise, pass.model.rest_sd * pass.model.rest_sd);
  return {predicted, numeric::predicted_measurement(x, speed_row, 0.0), across};
}

/// Takes one reading near rest into a forward pass: its direction unknown, left-censored in the dead band.
void update_near_rest(const BackwardPass& pass, const Reading& reading, ForwardPass& out) {
  const LaunchModel& model = pass.model;
  const double noise = without_rounding(variance_in_motion(pass, reading), model);
  const Normal predicted = numeric::predicted_measurement(out.state, pass.row, noise);
  if (reading.kind == Reading::Kind::censored) {
    out.log_likelihood += log_censored(model.dead_band, predicted);
    return;
  }
  const LengthPosterior length =
      written_length_posterior(reading.z, expected_length(pass, out.state, predicted, noise), model);
  out.log_likelihood +=
      length.log_density + log_not_censored(model.dead_band, {std::max(predicted.mean, reading.z), noise});
  out.state = numeric::update(out.state, pass.row, predicted, length.part);
  out.site.back() = site_of(pass, predicted, noise, length.part);
}

}  // namespace

ForwardPass forward_pass(const BackwardPass& pass, const LaunchEntry& entry) {
  ForwardPass out;
  out.log_likelihood = entry.log_likelihood;
  out.state = numeric::predict(entry.prior, entry.step, entry.jerk.front());
  bool at_reading = true;  // or at the first time after the launch: the covariance is of here
  for (std::size_t k = entry.first; k < pass.linear_from; ++k) {
    out.site.emplace_back();
    if (pass.grid.reading[k] >= 0) {
      at_reading = true;
      const Reading& reading = pass.window.readings[static_cast<std::size_t>(pass.grid.reading[k])];
      if (reading.kind != Reading::Kind::excluded) {
        update_near_rest(pass, reading, out);
      }
    }
    out.state.mean = numeric::predicted_mean(out.state.mean, pass.step[k], expected_jerk(entry, k + 1));
    if (at_reading) {
      out.state.cov = numeric::predicted_cov(out.state.cov, pass.leap[k]);
      at_reading = false;
    }
  }
  return out;
}

double launch_log_likelihood(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  const LaunchEntry entry = launch_entry(pass, shape, t0_s);
  const ForwardPass forward = forward_pass(pass, entry);
  const std::size_t from = entry.first + forward.site.size();
  const double log_likelihood =
      forward.log_likelihood +
      numeric::log_likelihood(forward.state, information_with_shape(pass, entry, from).front());
  return std::isfinite(log_likelihood) ? log_likelihood : impossible;
}

}  // namespace bothways
