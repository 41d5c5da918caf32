#include "bothways/numeric/backward.hpp"

#include "bothways/numeric/inverse.hpp"

#include <cmath>
#include <numbers>

namespace bothways::numeric {

namespace {

const double log_2pi = std::log(2.0 * std::numbers::pi);

}  // namespace

void add_reading(Information& info, const State& h, double z, double variance) {
  info.matrix.noalias() += h * h.transpose() / variance;
  info.vector += h * (z / variance);
  info.constant += reading_constant(z, variance);
}

double reading_constant(double z, double variance) {
  return -0.5 * (z * z / variance + std::log(variance) + log_2pi);
}

Carried carry_back(const Step& step, const Information& after) {
  Carried out;
  const StateMatrix iq = StateMatrix::Identity() + after.matrix * step.q;
  const Inverse inverse = invert(iq);
  const StateMatrix& m = inverse.matrix;
  const State mn = m * after.vector;
  const StateMatrix fm = transit_back(step.f, m);
  // F' (M L) F, by way of its transpose
  const StateMatrix fml = fm * after.matrix;
  out.before.matrix = transit_back(step.f, fml.transpose());
  out.before.matrix = 0.5 * (out.before.matrix + out.before.matrix.transpose()).eval();
  out.before.vector.noalias() = step.f.transpose() * mn;
  out.half_log_det = 0.5 * inverse.log_abs_det;
  out.before.constant = after.constant - out.half_log_det + 0.5 * after.vector.dot(step.q * mn);
  out.forward.a.noalias() = fm.transpose();
  out.forward.b.noalias() = step.q * mn;
  out.forward.c.noalias() = step.q * m;
  out.forward.c = 0.5 * (out.forward.c + out.forward.c.transpose()).eval();
  return out;
}

Information carry_back_information(const Step& step, const Information& after) {
  return carry_back(step, after).before;
}

Joined join(const Gaussian& prior, const Information& info) {
  Joined out;
  const Inverse inverse = invert(StateMatrix::Identity() + prior.cov * info.matrix);
  out.posterior.mean.noalias() = inverse.matrix * (prior.mean + prior.cov * info.vector);
  out.posterior.cov.noalias() = inverse.matrix * prior.cov;
  out.posterior.cov = 0.5 * (out.posterior.cov + out.posterior.cov.transpose()).eval();
  // log of the integral of N(x; m, P) exp(-x'Lx/2 + n'x + c)
  const State gap = info.vector - info.matrix * prior.mean;
  out.log_likelihood = info.constant - 0.5 * inverse.log_abs_det + info.vector.dot(prior.mean) -
                       0.5 * prior.mean.dot(info.matrix * prior.mean) +
                       0.5 * gap.dot(out.posterior.cov * gap);
  return out;
}

double log_likelihood(const Gaussian& prior, const Information& info) {
  return join(prior, info).log_likelihood;
}

Gaussian go_on(const Gaussian& belief, const Conditional& step) {
  Gaussian out;
  out.mean.noalias() = step.a * belief.mean + step.b;
  out.cov.noalias() = step.a * belief.cov * step.a.transpose() + step.c;
  return out;
}

Gaussian predict(const Gaussian& belief, const Step& step) {
  Gaussian out;
  out.mean.noalias() = step.f * belief.mean;
  out.cov = transit(step.f, transit(step.f, belief.cov).transpose()) + step.q;
  return out;
}

}  // namespace bothways::numeric
