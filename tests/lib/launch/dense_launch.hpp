#pragma once

#include "bothways/launch/forward_pass.hpp"
#include "lib/numeric/dense.hpp"

#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace bothways {

/// One launch under one hypothesis, as data for a joint normal written out.
struct DenseLaunch {
  const LaunchWindow& window;
  LaunchModel model;  ///< with the lag of the hypothesis
  LaunchShape shape;
  double early_jerk_factor = 1.0;
};

/// What counts as a measurement at a time after the launch; one without any say where there is none.
inline numeric::Measurement measurement_at(const DenseLaunch& launch, double t_s) {
  for (const Reading& reading : launch.window.readings) {
    if (reading.t_s == t_s) {
      return {launch.model.positions ? numeric::position_row() : numeric::speed_row(launch.model.motion),
              reading.z, reading.variance * launch.model.white_factor};
    }
  }
  return {numeric::State::Zero(), 0.0, 0.5 * std::numbers::inv_pi};  // log(2 pi r) = 0
}

/// States at these times, the first of which is the launch itself, given the slow error there and all
/// readings after it.
/// @param near_rest  measurements that stand for the readings at the first times after the launch
inline numeric::DenseRide dense_ride(const DenseLaunch& launch, const std::vector<double>& t_s,
                                     const numeric::Normal& slow_error,
                                     const std::vector<std::optional<numeric::Measurement>>& near_rest = {}) {
  const auto n = static_cast<Eigen::Index>(t_s.size());
  const double t0_s = t_s.front();
  numeric::DenseRide ride;
  ride.prior.mean(numeric::i_a) = launch.shape.at(0.0);
  ride.prior.cov(numeric::i_a, numeric::i_a) = launch.shape.sd_mps2 * launch.shape.sd_mps2;
  ride.prior.mean(numeric::i_e) = slow_error.mean;
  ride.prior.cov(numeric::i_e, numeric::i_e) = slow_error.variance;
  ride.prior.cov(numeric::i_r, numeric::i_r) = launch.model.launch_stray_variance;
  ride.z.resize(n);
  ride.variance.resize(n);
  for (std::size_t i = 0; i < t_s.size(); ++i) {
    const numeric::Measurement none = measurement_at(launch, -1.0);
    numeric::Measurement m = i == 0 ? none : measurement_at(launch, t_s[i]);
    if (i > 0 && i <= near_rest.size()) {
      m = near_rest[i - 1].value_or(none);
    }
    ride.row.push_back(m.row);
    ride.z(static_cast<Eigen::Index>(i)) = m.z;
    ride.variance(static_cast<Eigen::Index>(i)) = m.variance;
    if (i > 0) {
      const double dt_s = t_s[i] - t_s[i - 1];
      const bool early = t_s[i] <= launch.window.range.early_end_s;
      ride.step.push_back(
          numeric::transition_of(launch.model.motion, dt_s, early ? launch.early_jerk_factor : 1.0));
      const double gained = launch.shape.at(t_s[i] - t0_s) - launch.shape.at(t_s[i - 1] - t0_s);
      ride.input.push_back(gained / dt_s * ride.step.back().g);
    }
  }
  return ride;
}

/// Slow error at the launch, and log p of the readings at rest: a Gauss-Markov process seen in white noise,
/// written out as a joint normal. For positions, which read nothing else at rest.
struct DenseRest {
  numeric::Normal slow_error;
  double log_likelihood = 0.0;
};
inline DenseRest dense_rest(const DenseLaunch& launch, double t0_s) {
  std::vector<Reading> before;
  for (const Reading& reading : launch.window.readings) {
    if (reading.t_s <= t0_s) {
      before.push_back(reading);
    }
  }
  const auto n = static_cast<Eigen::Index>(before.size());
  const numeric::MotionModel& motion = launch.model.motion;
  const auto cov = [&](double apart_s) {
    return motion.slow_sd * motion.slow_sd * std::exp(-std::abs(apart_s) / motion.slow_time_s);
  };
  Eigen::MatrixXd s(n, n);
  Eigen::VectorXd z(n);
  Eigen::VectorXd c(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Reading& one = before[static_cast<std::size_t>(i)];
    z(i) = one.z;
    c(i) = cov(t0_s - one.t_s);
    for (Eigen::Index k = 0; k < n; ++k) {
      s(i, k) = cov(one.t_s - before[static_cast<std::size_t>(k)].t_s) + (i == k ? one.variance : 0.0);
    }
  }
  const Eigen::LLT<Eigen::MatrixXd> chol(s);
  const double log_det = 2.0 * chol.matrixLLT().diagonal().array().log().sum();
  return {
      {c.dot(chol.solve(z)), cov(0.0) - c.dot(chol.solve(c))},
      -0.5 * (z.dot(chol.solve(z)) + log_det + static_cast<double>(n) * std::log(2.0 * std::numbers::pi))};
}

}  // namespace bothways
