#pragma once

#include <Eigen/Core>

namespace bothways::numeric {

/// A hidden Markov chain in continuous time over ten levels of which only neighbours exchange weight, in
/// detailed balance with a stationary law: a value that wanders, observed through a likelihood.
class HiddenMarkovChain {
 public:
  static constexpr int levels = 10;
  using Levels = Eigen::Matrix<double, levels, 1>;

  /// @param stationary  (10) weights of the stationary law, > 0; the state's law to begin with
  /// @param rate        of exchange between levels of the same weight, 1/s, >= 0
  HiddenMarkovChain(const Levels& stationary, double rate);

  /// Time update over dt_s > 0.
  void predict(double dt_s);

  /// Measurement update by the likelihood of an observation at each level, >= 0. Returns its probability
  /// given those before, 1e-300 at least.
  double update(const Levels& likelihood);

  /// The filtered law; sums to 1.
  [[nodiscard]] const Levels& probability() const { return probability_; }

 private:
  using Change = Eigen::Matrix<double, levels, levels>;

  Levels probability_;
  Change rate_;
  Change change_;  ///< over change_s_
  double change_s_ = 0.0;
};

}  // namespace bothways::numeric
