#pragma once

#include <Eigen/Core>

namespace bothways::numeric {

/// A hidden level that wanders: a Markov process in continuous time over ten levels, of which only neighbours
/// exchange weight, in balance with a stationary law.
class LevelChain {
 public:
  static constexpr int levels = 10;
  using Levels = Eigen::Matrix<double, levels, 1>;

  /// @param stationary  (10) weights of the stationary law, > 0; the belief to begin with
  /// @param rate        of exchange between levels of the same weight, 1/s, >= 0
  LevelChain(const Levels& stationary, double rate);

  /// What is believed dt_s > 0 later.
  void wait(double dt_s);

  /// Weighs the levels by the likelihood of an observation, >= 0. Returns its probability under the belief
  /// before, 1e-300 at least.
  double weigh(const Levels& likelihood);

  /// Sums to 1.
  [[nodiscard]] const Levels& belief() const { return belief_; }

 private:
  using Change = Eigen::Matrix<double, levels, levels>;

  Levels belief_;
  Change rate_;
  Change change_;  ///< over change_s_
  double change_s_ = 0.0;
};

}  // namespace bothways::numeric
