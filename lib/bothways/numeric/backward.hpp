#pragma once

#include "bothways/numeric/motion.hpp"

#include <cstddef>
#include <vector>

namespace bothways::numeric {

/// A Gaussian belief about the state.
struct Gaussian {
  State mean = State::Zero();
  StateMatrix cov = StateMatrix::Zero();
};

/// What later readings say of a state x:  log p(z | x) = -x'Lx/2 + n'x + c.
struct Information {
  StateMatrix matrix = StateMatrix::Zero();
  State vector = State::Zero();
  double constant = 0.0;
};

/// One reading z = h x + N(0, variance).
void add_reading(Information& info, const State& h, double z, double variance);

/// What a reading adds to Information::constant.
[[nodiscard]] double reading_constant(double z, double variance);

/// How the state goes on when all later readings are known:  x' = A x + b + N(0, C).
struct Conditional {
  StateMatrix a = StateMatrix::Identity();
  State b = State::Zero();
  StateMatrix c = StateMatrix::Zero();
};

/// Information carried over a step to the step's beginning, and the conditional dynamics over it: what does
/// not depend on the readings' values. A backward information filter; nothing is inverted that may be
/// singular (docs/method.md, eq. (5)).
struct CarriedMatrices {
  StateMatrix information = StateMatrix::Zero();  ///< at the beginning
  StateMatrix a = StateMatrix::Zero();            ///< as in Conditional
  StateMatrix c = StateMatrix::Zero();
  double half_log_det = 0.0;  ///< log |I + L Q| / 2 of the step
};
[[nodiscard]] CarriedMatrices carry_matrices_back(const Step& step, const StateMatrix& after);

/// What depends on the readings' values. The offset b of the conditional dynamics is c times the vector after
/// the step.
struct Told {
  State vector = State::Zero();
  double constant = 0.0;
};
[[nodiscard]] Told carry_told_back(const CarriedMatrices& known, const Told& after);

/// Both together.
struct Carried {
  Information before;
  Conditional forward;
};
[[nodiscard]] Carried carry_back(const Step& step, const Information& after);

/// Prior belief and later readings together: the posterior, and log p(z) under the prior.
struct Joined {
  Gaussian posterior;
  double log_likelihood = 0.0;
};
[[nodiscard]] Joined join(const Gaussian& prior, const Information& info);

/// The same without the posterior.
[[nodiscard]] double log_likelihood(const Gaussian& prior, const Information& info);

/// a p a' + c of a step.
[[nodiscard]] StateMatrix spread_on(const StateMatrix& cov, const Conditional& step);

/// a x + b of a step, with another b than its own.
[[nodiscard]] State go_on(const State& mean, const Conditional& step, const State& b);

/// One conditional step of a belief.
[[nodiscard]] Gaussian go_on(const Gaussian& belief, const Conditional& step);

/// One plain step of a belief, without later readings.
[[nodiscard]] Gaussian predict(const Gaussian& belief, const Step& step);

}  // namespace bothways::numeric
