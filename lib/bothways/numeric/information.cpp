#include "bothways/numeric/information.hpp"

#include <Eigen/LU>

#include <cmath>
#include <numbers>

namespace bothways::numeric {

namespace {

/// (I + A B)^-1 for semi-definite A and B, and log |I + A B| / 2: the matrix is never singular, A and B may
/// be.
struct InverseSum {
  StateMatrix inverse;
  double half_log_det;

  InverseSum(const StateMatrix& a, const StateMatrix& b) {
    StateMatrix sum = StateMatrix::Identity();
    sum.noalias() += a * b;
    const Eigen::PartialPivLU<StateMatrix> lu(sum);
    for (int i = 0; i < state_size;
         ++i) {  // Eigen solves for one column of this size in line, for more in blocks
      inverse.col(i) = lu.solve(State::Unit(i));
    }
    half_log_det = 0.5 * std::log(std::abs(lu.determinant()));
  }
};

StateMatrix symmetric(const StateMatrix& m) {
  return 0.5 * (m + m.transpose());
}

}  // namespace

Information update(const Information& info, const Measurement& m) {
  Information out = info;
  out.matrix.noalias() += m.row * m.row.transpose() / m.variance;
  out.vector += m.row * (m.z / m.variance);
  out.constant -= 0.5 * (m.z * m.z / m.variance + std::log(2.0 * std::numbers::pi * m.variance));
  return out;
}

BackwardGain backward_gain(const Transition& step, const StateMatrix& information_after) {
  const InverseSum m(information_after, step.q);
  BackwardGain out;
  out.c = symmetric(step.q * m.inverse);
  out.a.noalias() = m.inverse.transpose() * step.f;
  const StateMatrix lf = information_after * step.f;
  out.information = symmetric(out.a.transpose() * lf);
  out.half_log_det = m.half_log_det;
  return out;
}

Information predict_back(const BackwardGain& gain, const Information& after, const State& input) {
  const State li = after.matrix * input;
  const State n = after.vector - li;
  Information before;
  before.matrix = gain.information;
  before.vector.noalias() = gain.a.transpose() * n;
  before.constant = after.constant + after.vector.dot(input) - 0.5 * input.dot(li) - gain.half_log_det +
                    0.5 * n.dot(gain.c * n);
  return before;
}

SmoothedTransition smoothed_transition(const BackwardGain& gain, const Information& after,
                                       const State& input) {
  return {gain.a, gain.c * (after.vector - after.matrix * input) + input, gain.c};
}

Gaussian predict(const Gaussian& x, const SmoothedTransition& step) {
  Gaussian out;
  out.mean = step.b;
  out.mean.noalias() += step.a * x.mean;
  const StateMatrix ap = step.a * x.cov;
  out.cov = step.c;
  out.cov.noalias() += ap * step.a.transpose();
  return out;
}

Posterior combine(const Gaussian& prior, const Information& info) {
  const InverseSum m(prior.cov, info.matrix);
  const StateMatrix cov = symmetric(m.inverse * prior.cov);
  const State gap = info.vector - info.matrix * prior.mean;
  const State shift = cov * gap;
  // n'm - m'Lm/2 = (n + gap)'m / 2
  return {{prior.mean + shift, cov},
          info.constant - m.half_log_det + 0.5 * (info.vector + gap).dot(prior.mean) + 0.5 * gap.dot(shift)};
}

double log_likelihood(const Gaussian& prior, const Information& info) {
  return combine(prior, info).log_likelihood;
}

}  // namespace bothways::numeric
