#pragma once

#include "bothways/numeric/kalman.hpp"

namespace bothways::numeric {

// The backward information filter: what measurements say of a state, in information (canonical) form, carried
// from the last of them to the first. With a prior of the first state it gives the fixed-interval smoother,
// as a Markov process that runs forward (docs/method.md, eqs. (4.1) to (4.5)) [RTS65].

/// log p(measurements | x) = -x'Lx/2 + n'x + c, eq. (4.1).
struct Information {
  StateMatrix matrix = StateMatrix::Zero();  ///< L
  State vector = State::Zero();              ///< n
  double constant = 0.0;                     ///< c
};

/// Adds one measurement.
[[nodiscard]] Information update(const Information& info, const Measurement& measurement);

/// What a step makes of L: it depends on the times and the noise, not on what was read. Eqs. (4.2), (4.3).
struct BackwardGain {
  StateMatrix information = StateMatrix::Zero();  ///< F'MLF, L at the beginning of the step
  StateMatrix a = StateMatrix::Identity();        ///< M'F
  StateMatrix c = StateMatrix::Zero();            ///< QM, covariance of the smoothed transition
  double half_log_det = 0.0;                      ///< log |I + LQ| / 2
};
[[nodiscard]] BackwardGain backward_gain(const Transition& step, const StateMatrix& information_after);

/// Information at the beginning of a step.
/// @param input  what a known jerk adds to the state over the step
[[nodiscard]] Information predict_back(const BackwardGain& gain, const Information& after,
                                       const State& input);

/// The smoothed transition: x' = a x + b + N(0, c) when all later measurements are known, eq. (4.3).
struct SmoothedTransition {
  StateMatrix a = StateMatrix::Identity();
  State b = State::Zero();
  StateMatrix c = StateMatrix::Zero();
};
[[nodiscard]] SmoothedTransition smoothed_transition(const BackwardGain& gain, const Information& after,
                                                     const State& input);

[[nodiscard]] Gaussian predict(const Gaussian& x, const SmoothedTransition& step);

/// Prior and information together: the posterior, and log p(measurements) under the prior, eqs. (4.4), (4.5).
struct Posterior {
  Gaussian state;
  double log_likelihood = 0.0;
};
[[nodiscard]] Posterior combine(const Gaussian& prior, const Information& info);

/// The same without the state.
[[nodiscard]] double log_likelihood(const Gaussian& prior, const Information& info);

}  // namespace bothways::numeric
