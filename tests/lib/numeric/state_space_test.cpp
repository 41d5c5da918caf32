#include "bothways/numeric/state_space.hpp"

#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <unsupported/Eigen/MatrixFunctions>

#include <cmath>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

namespace {

/// The model as a stochastic differential equation x' = A x + white noise of density D.
struct Continuous {
  StateMatrix a = StateMatrix::Zero();
  StateMatrix d = StateMatrix::Zero();
};

Continuous continuous(const MotionModel& motion) {
  Continuous c;
  c.a(i_s, i_v) = 1.0;
  c.a(i_v, i_a) = 1.0;
  c.a(i_a, i_a) = -motion.accel_decay_per_s;
  c.a(i_y, i_v) = 1.0 / motion.filter.lag_s;
  c.a(i_y, i_y) = -1.0 / motion.filter.lag_s;
  c.a(i_e, i_e) = -1.0 / motion.slow_time_s;
  if (motion.filter.tracks_acceleration) {
    c.a(i_y2, i_y) = 1.0 / motion.filter.lag_s;
    c.a(i_y2, i_y2) = -1.0 / motion.filter.lag_s;
  } else {
    c.a(i_e, i_r) = motion.stray_sd > 0.0 ? 1.0 : 0.0;
    c.a(i_r, i_r) = -1.0 / motion.stray_time_s;
  }
  c.d(i_r, i_r) = 2.0 * motion.stray_sd * motion.stray_sd / motion.stray_time_s;
  c.d(i_a, i_a) = motion.jerk_density;
  c.d(i_e, i_e) = 2.0 * motion.slow_sd * motion.slow_sd / motion.slow_time_s;
  return c;
}

/// Van Loan's block exponential [VANLOAN78] over a step short against the lag, then doubled: Q(2h) = F Q F' +
/// Q.
Transition by_exponential(const MotionModel& motion, double dt_s) {
  const Continuous c = continuous(motion);
  int doublings = 0;
  double h = dt_s;
  while (h > 0.5 * motion.filter.lag_s) {
    h *= 0.5;
    ++doublings;
  }
  Eigen::Matrix<double, 2 * state_size, 2 * state_size> m;
  m << -c.a, c.d, StateMatrix::Zero(), c.a.transpose();
  const Eigen::Matrix<double, 2 * state_size, 2 * state_size> scaled = m * h;
  const Eigen::Matrix<double, 2 * state_size, 2 * state_size> e = scaled.exp();
  Transition step;
  step.f = e.bottomRightCorner<state_size, state_size>().transpose();
  step.q = step.f * e.topRightCorner<state_size, state_size>();
  for (int i = 0; i < doublings; ++i) {
    step.q = (step.f * step.q * step.f.transpose() + step.q).eval();
    step.f = (step.f * step.f).eval();
  }
  return step;
}

/// Largest error of a covariance in units of its own sds.
double worst(const StateMatrix& q, const StateMatrix& reference) {
  double out = 0.0;
  for (int i = 0; i < state_size; ++i) {
    for (int j = 0; j < state_size; ++j) {
      const double scale = std::sqrt(reference(i, i) * reference(j, j));
      out = std::max(out, std::abs(q(i, j) - reference(i, j)) / scale);
    }
  }
  return out;
}

/// x' = A x + b, x(0) = 0: last column of exp([A b; 0 0] dt).
State by_exponential(const MotionModel& motion, double jerk, double dt_s) {
  Eigen::Matrix<double, state_size + 1, state_size + 1> m;
  m.setZero();
  m.topLeftCorner<state_size, state_size>() = continuous(motion).a;
  m(i_a, state_size) = jerk;
  m *= dt_s;
  const Eigen::Matrix<double, state_size + 1, state_size + 1> e = m.exp();
  return e.topRightCorner<state_size, 1>();
}

}  // namespace

TEST_CASE("a step carries the state on as the matrix exponential of the model does", "[numeric]") {
  for (const double lag_s : {0.01, 0.05, 0.15, 0.3, 1.5}) {
    for (const double dt_s : {0.001, 0.04, 0.1, 0.25, 1.0, 3.0}) {
      const MotionModel motion{7.0, {lag_s}, 0.08, 4.0, 0.5, 1.8};
      INFO("lag " << lag_s << " s, dt " << dt_s << " s");
      CHECK((transition_of(motion, dt_s).f - by_exponential(motion, dt_s).f).cwiseAbs().maxCoeff() < 1e-11);
    }
  }
}

TEST_CASE("an acceleration that falls is carried on as the model says [SINGER70]", "[numeric]") {
  for (const double time_s : {0.5, 4.0, 6.0, 1e3}) {
    for (const double dt_s : {0.001, 0.04, 0.1, 0.25}) {
      MotionModel motion{7.0, {0.15}, 0.08, 4.0, 0.5, 1.8};
      motion.accel_decay_per_s = 1.0 / time_s;
      const Transition reference = by_exponential(motion, dt_s);
      INFO("T_a " << time_s << " s, dt " << dt_s << " s");
      CHECK((transition_of(motion, dt_s).f - reference.f).cwiseAbs().maxCoeff() < 1e-11);
      CHECK(worst(transition_of(motion, dt_s).q, reference.q) <
            (dt_s < 0.15 ? 1e-6 : 3e-4));  // y by a quadrature
      CHECK((transition_of(motion, dt_s).g - by_exponential(motion, 1.0, dt_s)).cwiseAbs().maxCoeff() <
            1e-10);
    }
  }
}

TEST_CASE("the noise of a step is Van Loan's integral, but for the lagged speed", "[numeric]") {
  for (const double dt_s : {0.001, 0.04, 0.1, 0.25, 1.0, 3.0}) {
    const MotionModel motion{7.0, {0.15}, 0.08, 4.0, 0.5, 1.8};
    StateMatrix q = transition_of(motion, dt_s).q;
    const StateMatrix reference = by_exponential(motion, dt_s).q;
    q.row(i_y) = reference.row(i_y);
    q.col(i_y) = reference.col(i_y);
    INFO("dt " << dt_s << " s");
    CHECK(worst(q, reference) < 1e-10);
  }
}

TEST_CASE("the noise of the lagged speed is Van Loan's integral", "[numeric]") {
  for (const double lag_s : {0.01, 0.05, 0.15, 0.3, 1.5}) {
    for (const double dt_s : {0.001, 0.04, 0.1, 0.25, 1.0, 3.0}) {
      const MotionModel motion{7.0, {lag_s}, 0.08, 4.0, 0.5, 1.8};
      INFO("lag " << lag_s << " s, dt " << dt_s << " s");
      // Quadrature with five points: worse where the step is long against the lag, never enough to matter.
      CHECK(worst(transition_of(motion, dt_s).q, by_exponential(motion, dt_s).q) <
            (dt_s <= lag_s ? 1e-6 : 3e-4));
    }
  }
}

TEST_CASE("what a tracker of acceleration shows is carried on as the model says", "[numeric]") {
  for (const double lag_s : {0.05, 0.2, 0.4}) {
    for (const double time_s : {4.0, 1e3}) {
      for (const double dt_s : {0.04, 0.1, 0.25, 1.0}) {
        MotionModel motion{7.0, {lag_s}, 0.08, 4.0};
        motion.filter.tracks_acceleration = true;
        motion.accel_decay_per_s = 1.0 / time_s;
        const Transition step = transition_of(motion, dt_s);
        const Transition reference = by_exponential(motion, dt_s);
        INFO("lag " << lag_s << " s, T_a " << time_s << " s, dt " << dt_s << " s");
        CHECK((step.f - reference.f).cwiseAbs().maxCoeff() < 1e-11);
        CHECK(worst(step.q, reference.q) < (dt_s <= lag_s ? 1e-5 : 2e-3));
        CHECK((step.g - by_exponential(motion, 1.0, dt_s)).cwiseAbs().maxCoeff() < 1e-3);
      }
    }
  }
}

TEST_CASE("a tracker of acceleration shows a steady pull without lag, and its begin late", "[numeric]") {
  MotionModel motion{7.0, {0.3}, 0.0, 4.0};
  motion.filter.tracks_acceleration = true;
  State x = State::Zero();
  x(i_a) = 3.0;
  const auto shown = [&](double t_s) {
    const State later = transition_of(motion, t_s).f * x;
    return later(i_v) - speed_row(motion).dot(later);
  };
  for (const double t_s : {0.1, 0.3, 0.6, 4.0}) {  // critically damped: a t exp(-t / tau) is missing
    CHECK_THAT(shown(t_s), WithinAbs(3.0 * t_s * std::exp(-t_s / 0.3), 1e-9));
  }
}

TEST_CASE("without lag the chain of travel, speed and acceleration is exact and y stays out", "[numeric]") {
  const double q = 3.0;
  const double dt = 0.7;
  const Transition step = transition_of({q, {0.0}, 0.1, 5.0}, dt, 2.0);
  CHECK_THAT(step.q(i_s, i_s), WithinAbs(2.0 * q * std::pow(dt, 5) / 20.0, 1e-14));
  CHECK_THAT(step.q(i_s, i_a), WithinAbs(2.0 * q * std::pow(dt, 3) / 6.0, 1e-14));
  CHECK_THAT(step.q(i_v, i_v), WithinAbs(2.0 * q * std::pow(dt, 3) / 3.0, 1e-14));
  CHECK_THAT(step.q(i_e, i_e), WithinAbs(0.01 * (1.0 - std::exp(-2.0 * dt / 5.0)), 1e-14));
  CHECK(step.q.row(i_y).isZero());
  CHECK(step.f.row(i_y).isZero());
  CHECK(speed_row({q, {0.0}, 0.1, 5.0})(i_v) == 1.0);
  CHECK(speed_row({q, {0.1}, 0.1, 5.0})(i_y) == 1.0);
  const State mean = speed_row({q, {.lag_s = 1.5, .feedthrough = 0.25}, 0.1, 5.0});
  CHECK(mean(i_v) == 0.25);
  CHECK(mean(i_y) == 0.75);
}

TEST_CASE("two steps make the one of their sum", "[numeric]") {
  const MotionModel motion{4.0, {0.0}, 0.1, 3.0};
  const Transition one = transition_of(motion, 0.11);
  const Transition two = transition_of(motion, 0.14);
  const Transition both = transition_of(motion, 0.25);
  CHECK((two.f * one.f - both.f).cwiseAbs().maxCoeff() < 1e-13);
  CHECK((two.f * one.q * two.f.transpose() + two.q - both.q).cwiseAbs().maxCoeff() < 1e-13);
}

TEST_CASE("two steps with lag make the one of their sum", "[numeric]") {
  const MotionModel motion{4.0, {0.2}, 0.1, 3.0};
  const Transition one = transition_of(motion, 0.11);
  const Transition two = transition_of(motion, 0.14);
  const Transition both = transition_of(motion, 0.25);
  CHECK((two.f * one.q * two.f.transpose() + two.q - both.q).cwiseAbs().maxCoeff() < 1e-9);
}

TEST_CASE("travel, speed and acceleration answer a constant jerk as the model says", "[numeric]") {
  for (const double dt_s : {0.001, 0.1, 0.25, 2.0}) {
    const MotionModel motion{4.0, {0.15}, 0.05, 5.0};
    State off = -2.5 * transition_of(motion, dt_s).g - by_exponential(motion, -2.5, dt_s);
    off(i_y) = 0.0;
    CHECK(off.cwiseAbs().maxCoeff() < 1e-12);
  }
}

TEST_CASE("the lagged speed answers a constant jerk as the model says", "[numeric]") {
  for (const double lag_s : {0.01, 0.15, 1.0}) {
    for (const double dt_s : {0.001, 0.1, 0.25, 2.0}) {
      const MotionModel motion{4.0, {lag_s}, 0.05, 5.0};
      INFO("lag " << lag_s << " s, dt " << dt_s << " s");
      CHECK_THAT(-2.5 * transition_of(motion, dt_s).g(i_y),
                 WithinAbs(by_exponential(motion, -2.5, dt_s)(i_y), 1e-12));
    }
  }
}
