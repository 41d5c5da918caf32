#pragma once

#include "bothways/numeric/state_space.hpp"

namespace bothways::numeric {

/// A normal law of the state.
struct Gaussian {
  State mean = State::Zero();
  StateMatrix cov = StateMatrix::Zero();
};

/// A normal law of one number.
struct Normal {
  double mean = 0.0;
  double variance = 0.0;
};

/// log of its density at x. variance > 0.
[[nodiscard]] double log_density(const Normal& law, double x);

/// One measurement z = h x + N(0, variance).
struct Measurement {
  State row = State::Zero();  ///< h
  double z = 0.0;
  double variance = 1.0;  ///< r, > 0
};

/// Time update over one step [KAL60].
/// @param jerk  known constant jerk over it, m/s^3
[[nodiscard]] Gaussian predict(const Gaussian& x, const Transition& step, double jerk = 0.0);
/// Its two parts, which do not need each other: a covariance may take several steps in one (joined()).
[[nodiscard]] State predicted_mean(const State& mean, const Transition& step, double jerk = 0.0);
[[nodiscard]] StateMatrix predicted_cov(const StateMatrix& cov, const Transition& step);

/// The predicted measurement h x + N(0, variance).
[[nodiscard]] Normal predicted_measurement(const Gaussian& x, const State& row, double variance);

/// Measurement update where the measurement is known as a normal law only (moment matching): with gain
/// k = P h' / S the mean moves by k (m' - m) and the covariance by -k k' (S - S'). A reading taken as it is,
/// m' = z and S' = 0, gives the Kalman update.
/// @param predicted  N(m, S), of predicted_measurement()
/// @param known      N(m', S'), S' <= S
[[nodiscard]] Gaussian update(const Gaussian& x, const State& row, const Normal& predicted,
                              const Normal& known);

}  // namespace bothways::numeric
