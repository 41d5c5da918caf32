#pragma once

#include "bothways/launch/backward_pass.hpp"
#include "bothways/launch/hypothesis.hpp"
#include "bothways/numeric/crossing.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// The smoothed motion after one launch instant under one hypothesis: a Gauss-Markov process. Point 0 is the
/// launch itself, the others are the times of the grid after it.
struct SmoothedPath {
  double weight = 1.0;                       ///< posterior probability of this instant and hypothesis
  std::size_t part = 0;                      ///< that of its hypothesis
  double launch_width_s = 0.0;               ///< the instant stands for so much time round it
  double clock_sd_s = 0.0;                   ///< of a time from one foot, eq. (5.8)
  double marks_sd_s = 0.0;                   ///< of a time from mark to mark likewise
  std::vector<double> t_s;                   ///< (n)
  std::vector<numeric::State> mean;          ///< (n) smoothed state
  std::vector<numeric::StateMatrix> cov;     ///< (n) its covariance
  std::vector<numeric::StateMatrix> lagged;  ///< (n - 1) a: Cov(x[i + 1], x[j]) = a Cov(x[i], x[j]), j <= i
};

/// The mean of a row of the state between points i and i + 1; that row + 1 is its slope.
[[nodiscard]] numeric::Cubic cubic_of(const SmoothedPath& path, std::size_t i, int row);

/// Fixed-interval smoother: eqs. (4.3) to (4.5) run forward from the launch.
[[nodiscard]] SmoothedPath smoothed_path(const BackwardPass& pass, const LaunchShape& shape, double t0_s);

}  // namespace bothways
