#include "bothways/numeric/information.hpp"

#include <Eigen/LU>

#include <cmath>
#include <numbers>

namespace bothways::numeric {

namespace {

/// I + A B of semi-definite A and B, which is never singular though they may be, and log |I + A B| / 2.
struct SumFactors {
  Eigen::PartialPivLU<StateMatrix> lu;

  SumFactors(const StateMatrix& a, const StateMatrix& b) : lu(sum_of(a, b)) {}
  [[nodiscard]] double half_log_det() const { return 0.5 * std::log(std::abs(lu.determinant())); }

 private:
  static StateMatrix sum_of(const StateMatrix& a, const StateMatrix& b) {
    StateMatrix sum = StateMatrix::Identity();
    sum.noalias() += a * b;
    return sum;
  }
};

/// (I + A B)^-1 likewise.
struct InverseSum {
  StateMatrix inverse;
  double half_log_det;

  InverseSum(const StateMatrix& a, const StateMatrix& b) {
    const SumFactors sum(a, b);
    for (int i = 0; i < state_size;
         ++i) {  // Eigen solves for one column of this size in line, for more in blocks
      inverse.col(i) = sum.lu.solve(State::Unit(i));
    }
    half_log_det = sum.half_log_det();
  }
};

StateMatrix symmetric(const StateMatrix& m) {
  return 0.5 * (m + m.transpose());
}

/// Eq. (4.5), with the mean's shift = (P^-1 + L)^-1 gap, gap = n - L m; n'm - m'Lm/2 = (n + gap)'m / 2.
double log_likelihood_of(const Gaussian& prior, const Information& info, const State& gap, const State& shift,
                         double half_log_det) {
  return info.constant - half_log_det + 0.5 * (info.vector + gap).dot(prior.mean) + 0.5 * gap.dot(shift);
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
  return {{prior.mean + shift, cov}, log_likelihood_of(prior, info, gap, shift, m.half_log_det)};
}

double log_likelihood(const Gaussian& prior, const Information& info) {
  const SumFactors sum(prior.cov, info.matrix);
  const State gap = info.vector - info.matrix * prior.mean;
  return log_likelihood_of(prior, info, gap, sum.lu.solve(State(prior.cov * gap)), sum.half_log_det());
}

}  // namespace bothways::numeric
