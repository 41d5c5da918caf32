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

void carry_vector_back(const Conditional& forward, double half_log_det, const Information& after,
                       Information& before, State& b) {
  b.noalias() = forward.c * after.vector;
  before.vector.noalias() = forward.a.transpose() * after.vector;
  before.constant = after.constant - half_log_det + 0.5 * after.vector.dot(b);
}

namespace {

template <int N>
Carried carry_back_in(const Step& step, const Information& after) {
  const Woodbury<N> by(step.root, after.matrix);
  using Matrix = typename Woodbury<N>::Matrix;
  Carried out;
  out.forward.c.template topLeftCorner<N, N>().noalias() = by.v.transpose() * by.v;
  Matrix a = Matrix::Identity();
  a.noalias() -= by.v.transpose() * by.t;
  out.forward.a.setZero();
  out.forward.a.template topLeftCorner<N, N>() = times_transition<N>(a, step.f);
  Matrix left = after.matrix.template topLeftCorner<N, N>();
  left.noalias() -= by.t.transpose() * by.t;
  left = times_transition<N>(left, step.f).transpose().eval();
  left = times_transition<N>(left, step.f);
  out.before.matrix.template topLeftCorner<N, N>() = 0.5 * (left + left.transpose());
  out.half_log_det = by.half_log_det;
  carry_vector_back(out.forward, out.half_log_det, after, out.before, out.forward.b);
  return out;
}

/// a p a' + c in the leading N rows and columns.
template <int N>
StateMatrix spread_on_in(const StateMatrix& cov, const Conditional& step) {
  using Matrix = Eigen::Matrix<double, N, N>;
  const Matrix a = step.a.topLeftCorner<N, N>();
  const Matrix p = cov.topLeftCorner<N, N>();
  const Matrix ap = a * p;
  Matrix next = step.c.topLeftCorner<N, N>();
  next.noalias() += ap * a.transpose();
  StateMatrix out = StateMatrix::Zero();
  out.topLeftCorner<N, N>() = next;
  return out;
}

template <int N>
double log_likelihood_in(const Gaussian& prior, const Information& info, Gaussian* posterior) {
  const Woodbury<N> by(root_of(prior.cov), info.matrix);
  const Eigen::Matrix<double, N, 1> gap =
      info.vector.template head<N>() -
      info.matrix.template topLeftCorner<N, N>() * prior.mean.template head<N>();
  const Eigen::Matrix<double, N, 1> spread = by.v * gap;
  if (posterior != nullptr) {
    *posterior = prior;
    posterior->cov.template topLeftCorner<N, N>().noalias() = by.v.transpose() * by.v;
    posterior->mean.template head<N>() += by.v.transpose() * spread;
  }
  // log of the integral of N(x; m, P) exp(-x'Lx/2 + n'x + c); n'm - m'Lm/2 = (n + gap)'m / 2
  return info.constant - by.half_log_det +
         0.5 * (info.vector.template head<N>() + gap).dot(prior.mean.template head<N>()) +
         0.5 * spread.squaredNorm();
}

}  // namespace

Carried carry_back(const Step& step, const Information& after) {
  return step.smoothed() ? carry_back_in<state_size>(step, after) : carry_back_in<plain_size>(step, after);
}

Joined join(const Gaussian& prior, const Information& info) {
  Joined out;
  out.log_likelihood = log_likelihood_in<state_size>(prior, info, &out.posterior);
  return out;
}

double log_likelihood(const Gaussian& prior, const Information& info) {
  return prior.cov(i_y, i_y) == 0.0 && prior.mean(i_y) == 0.0
             ? log_likelihood_in<plain_size>(prior, info, nullptr)
             : log_likelihood_in<state_size>(prior, info, nullptr);
}

StateMatrix spread_on(const StateMatrix& cov, const Conditional& step) {
  return step.c(i_y, i_y) == 0.0 ? spread_on_in<plain_size>(cov, step) : spread_on_in<state_size>(cov, step);
}

Gaussian go_on(const Gaussian& belief, const Conditional& step) {
  return {step.a * belief.mean + step.b, spread_on(belief.cov, step)};
}

StateMatrix spread_on(const StateMatrix& cov, const Step& step) {
  const StateMatrix& f = step.f;
  StateMatrix half = cov;
  if (step.smoothed()) {
    half.row(i_y) = f(i_y, i_v) * cov.row(i_v) + f(i_y, i_a) * cov.row(i_a) + f(i_y, i_y) * cov.row(i_y);
  } else {
    half.row(i_y).setZero();
  }
  half.row(i_s) += f(i_s, i_v) * cov.row(i_v) + f(i_s, i_a) * cov.row(i_a);
  half.row(i_v) += f(i_v, i_a) * cov.row(i_a);
  half.row(i_e) *= f(i_e, i_e);
  StateMatrix out = step.q;
  out.col(i_s) += half.col(i_s) + f(i_s, i_v) * half.col(i_v) + f(i_s, i_a) * half.col(i_a);
  out.col(i_v) += half.col(i_v) + f(i_v, i_a) * half.col(i_a);
  out.col(i_a) += half.col(i_a);
  out.col(i_e) += f(i_e, i_e) * half.col(i_e);
  if (step.smoothed()) {
    out.col(i_y) += f(i_y, i_v) * half.col(i_v) + f(i_y, i_a) * half.col(i_a) + f(i_y, i_y) * half.col(i_y);
  }
  return out;
}

Step then(const Step& first, const Step& second) {
  Step out;
  out.f.noalias() = second.f * first.f;
  out.q = spread_on(first.q, second);
  return out;
}

Gaussian predict(const Gaussian& belief, const Step& step) {
  return {step.f * belief.mean, spread_on(belief.cov, step)};
}

}  // namespace bothways::numeric
