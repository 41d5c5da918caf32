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

namespace {

template <int N>
Told carry_told_back_in(const CarriedMatrices& known, const Told& after) {
  const Eigen::Matrix<double, N, 1> n = after.vector.head<N>();
  const Eigen::Matrix<double, N, 1> shift = known.c.topLeftCorner<N, N>() * n;
  Told before;
  before.vector.head<N>().noalias() = known.a.topLeftCorner<N, N>().transpose() * n;
  before.constant = after.constant - known.half_log_det + 0.5 * n.dot(shift);
  return before;
}

template <int N>
CarriedMatrices carry_matrices_back_in(const Step& step, const StateMatrix& after) {
  const Woodbury<N> by(step.root, after);
  using Matrix = typename Woodbury<N>::Matrix;
  CarriedMatrices out;
  out.c.template topLeftCorner<N, N>().noalias() = by.v * by.v.transpose();
  Matrix a = Matrix::Identity();
  a.noalias() -= by.v * by.t.transpose();
  out.a.template topLeftCorner<N, N>() = times_transition<N>(a, step.f);
  Matrix left = after.topLeftCorner<N, N>();
  left.noalias() -= by.t * by.t.transpose();
  left = times_transition<N>(left, step.f).transpose().eval();
  left = times_transition<N>(left, step.f);
  out.information.template topLeftCorner<N, N>() = 0.5 * (left + left.transpose());
  out.half_log_det = by.half_log_det;
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
Product<N> product(const Gaussian& prior, const Information& info) {
  return {prior.mean.head<N>(), prior.cov.topLeftCorner<N, N>(), info.matrix.topLeftCorner<N, N>(),
          info.vector.head<N>()};
}

template <int N>
Joined join_in(const Gaussian& prior, const Information& info) {
  const Product<N> both = product<N>(prior, info);
  Joined out{prior, info.constant + both.log_integral};
  out.posterior.mean.head<N>() += both.by.v * both.shift;
  out.posterior.cov.topLeftCorner<N, N>() = both.by.v * both.by.v.transpose();
  return out;
}

/// y is not used.
bool is_plain(const Gaussian& belief) {
  return belief.cov(i_y, i_y) == 0.0 && belief.mean(i_y) == 0.0;
}

}  // namespace

CarriedMatrices carry_matrices_back(const Step& step, const StateMatrix& after) {
  return step.smoothed() ? carry_matrices_back_in<state_size>(step, after)
                         : carry_matrices_back_in<plain_size>(step, after);
}

Told carry_told_back(const CarriedMatrices& known, const Told& after) {
  return known.c(i_y, i_y) == 0.0 ? carry_told_back_in<plain_size>(known, after)
                                  : carry_told_back_in<state_size>(known, after);
}

Carried carry_back(const Step& step, const Information& after) {
  const CarriedMatrices known = carry_matrices_back(step, after.matrix);
  const Told told = carry_told_back(known, {after.vector, after.constant});
  return {{known.information, told.vector, told.constant}, {known.a, known.c * after.vector, known.c}};
}

Joined join(const Gaussian& prior, const Information& info) {
  return is_plain(prior) ? join_in<plain_size>(prior, info) : join_in<state_size>(prior, info);
}

double log_likelihood(const Gaussian& prior, const Information& info) {
  return info.constant + (is_plain(prior) ? product<plain_size>(prior, info).log_integral
                                          : product<state_size>(prior, info).log_integral);
}

StateMatrix spread_on(const StateMatrix& cov, const Conditional& step) {
  return step.c(i_y, i_y) == 0.0 ? spread_on_in<plain_size>(cov, step) : spread_on_in<state_size>(cov, step);
}

State go_on(const State& mean, const Conditional& step, const State& b) {
  if (step.c(i_y, i_y) != 0.0) {
    return step.a * mean + b;
  }
  State out = b;
  out.head<plain_size>() += step.a.topLeftCorner<plain_size, plain_size>() * mean.head<plain_size>();
  return out;
}

Gaussian go_on(const Gaussian& belief, const Conditional& step) {
  return {go_on(belief.mean, step, step.b), spread_on(belief.cov, step)};
}

Gaussian predict(const Gaussian& belief, const Step& step) {
  return {step.f * belief.mean, step.f * belief.cov * step.f.transpose() + step.q};
}

}  // namespace bothways::numeric
