#pragma once

#include "bothways/numeric/information.hpp"

#include <Eigen/Dense>

#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

namespace bothways::numeric {

/// States and readings of a short ride as one joint normal, written down without any filter: what the
/// backward pass must agree with.
struct DenseRide {
  Gaussian prior;                ///< of the first state
  std::vector<Transition> step;  ///< (n - 1)
  std::vector<State> input;      ///< (n - 1) added to the state at the end of each step
  std::vector<State> row;        ///< (n) of each reading
  Eigen::VectorXd z;             ///< (n)
  Eigen::VectorXd variance;      ///< (n)
};

struct DensePosterior {
  Eigen::VectorXd mean;  ///< (6 n) of the states given the readings
  Eigen::MatrixXd cov;
  double log_likelihood = 0.0;

  [[nodiscard]] State state(Eigen::Index k) const { return mean.segment<state_size>(state_size * k); }
  [[nodiscard]] StateMatrix block(Eigen::Index j, Eigen::Index k) const {
    return cov.block<state_size, state_size>(state_size * j, state_size * k);
  }
};

inline DensePosterior dense_posterior(const DenseRide& ride) {
  const auto n = static_cast<Eigen::Index>(ride.row.size());
  Eigen::VectorXd m(state_size * n);
  Eigen::MatrixXd p = Eigen::MatrixXd::Zero(state_size * n, state_size * n);
  m.head<state_size>() = ride.prior.mean;
  p.topLeftCorner<state_size, state_size>() = ride.prior.cov;
  for (Eigen::Index k = 1; k < n; ++k) {
    const auto at = static_cast<std::size_t>(k - 1);
    const Eigen::Index here = state_size * k;
    const StateMatrix& f = ride.step[at].f;
    m.segment<state_size>(here) = f * m.segment<state_size>(here - state_size) + ride.input[at];
    p.block(here, 0, state_size, here) = f * p.block(here - state_size, 0, state_size, here);
    p.block(0, here, here, state_size) = p.block(here, 0, state_size, here).transpose();
    p.block<state_size, state_size>(here, here) =
        f * p.block<state_size, state_size>(here - state_size, here - state_size) * f.transpose() +
        ride.step[at].q;
  }
  Eigen::MatrixXd h = Eigen::MatrixXd::Zero(n, state_size * n);
  for (Eigen::Index k = 0; k < n; ++k) {
    h.block<1, state_size>(k, state_size * k) = ride.row[static_cast<std::size_t>(k)].transpose();
  }
  Eigen::MatrixXd s = h * p * h.transpose();
  s += ride.variance.asDiagonal();
  const Eigen::LLT<Eigen::MatrixXd> chol(s);
  const Eigen::VectorXd gap = ride.z - h * m;
  const Eigen::MatrixXd ph = p * h.transpose();
  DensePosterior out;
  out.mean = m + ph * chol.solve(gap);
  out.cov = p - ph * chol.solve(ph.transpose());
  const double log_det = 2.0 * chol.matrixLLT().diagonal().array().log().sum();
  out.log_likelihood =
      -0.5 * (gap.dot(chol.solve(gap)) + log_det + static_cast<double>(n) * std::log(2.0 * std::numbers::pi));
  return out;
}

}  // namespace bothways::numeric
