#include "bothways/numeric/state_space.hpp"

#include <cmath>

namespace bothways::numeric {

namespace {

constexpr double least_lag_s = 1e-3;

/// Integral of exp(-k u) over 0..dt, k >= 0.
double decay_integral(double k, double dt) {
  constexpr double hardly = 1e-8;
  return k * dt < hardly ? dt : -std::expm1(-k * dt) / k;
}

/// The double integral of exp(-k u): travel after a unit step of acceleration that decays by k.
double decay_double_integral(double k, double dt) {
  constexpr double hardly = 1e-5;
  return k * dt < hardly ? dt * dt * (0.5 - k * dt / 6.0) : (dt - decay_integral(k, dt)) / k;
}

/// y of tau y' = v - y after a unit step of acceleration that decays by k: the integral over 0..u of
/// exp(-k w) (1 - exp(-(u - w) / tau)).
double lagged_response(double k, double lag_s, double u) {
  const double b = 1.0 / lag_s;
  return decay_integral(k, u) - std::exp(-b * u) * (k < b ? std::expm1((b - k) * u) / (b - k) : u);
}

/// The integral of t exp(-c t) over 0..u.
double first_moment(double c, double u) {
  constexpr double small = 1e-2;  // below it the closed form cancels
  const double x = c * u;
  return std::abs(x) < small ? u * u * (1.0 / 2.0 + x * (-1.0 / 3.0 + x * (1.0 / 8.0 - x / 30.0)))
                             : (-std::expm1(-x) - x * std::exp(-x)) / (c * c);
}

/// y2 of tau y2' = y - y2 likewise: the integral over 0..u of exp(-k w) (1 - exp(-b x) (1 + b x)), x = u - w.
double twice_lagged_response(double k, double lag_s, double u) {
  const double b = 1.0 / lag_s;
  const double c = b - k;
  const double first = c == 0.0 ? u : -std::expm1(-c * u) / c;
  return decay_integral(k, u) - std::exp(-k * u) * (first + b * first_moment(c, u));
}

bool has_filter(const MotionModel& model) {
  return model.filter.lag_s >= least_lag_s;
}

bool has_tracker(const MotionModel& model) {
  return has_filter(model) && model.filter.tracks_acceleration;
}

/// s, v, a, y and y2 at u seconds after a unit step of acceleration.
State acceleration_response(const MotionModel& model, double u) {
  const double k = model.accel_decay_per_s;
  State x = State::Zero();
  x(i_s) = decay_double_integral(k, u);
  x(i_v) = decay_integral(k, u);
  x(i_a) = std::exp(-k * u);
  x(i_y) = has_filter(model) ? lagged_response(k, model.filter.lag_s, u) : 0.0;
  if (has_tracker(model)) {
    x(i_y2) = twice_lagged_response(k, model.filter.lag_s, u);
  }
  return x;
}

/// What a white jerk of density q and a constant one of 1 m/s^3 leave over dt: the integrals of q x x' and of
/// x, with x the response to an impulse of jerk u seconds before the end [SS19], by Gauss and Legendre.
void add_jerk(const MotionModel& model, double q, double dt_s, Transition& step) {
  static constexpr double node[] = {0.046910077030668, 0.230765344947158, 0.5, 0.769234655052842,
                                    0.953089922969332};
  static constexpr double weight[] = {0.118463442528095, 0.239314335249683, 0.284444444444444,
                                      0.239314335249683, 0.118463442528095};
  for (int i = 0; i < 5; ++i) {
    const State x = acceleration_response(model, node[i] * dt_s);
    step.q += (q * weight[i] * dt_s) * x * x.transpose();
    step.g += weight[i] * dt_s * x;
  }
  const State at_end = acceleration_response(model, dt_s);
  step.g(i_y) = at_end(i_s) - model.filter.lag_s * at_end(i_y);  // integral of y, for y = v - tau y'
}

/// e' = -e/T + r, r' = -r/T_r + white noise.
void add_stray(const MotionModel& model, double dt_s, Transition& step) {
  const double a = 1.0 / model.slow_time_s;
  const double b = 1.0 / model.stray_time_s;
  step.f(i_r, i_r) = std::exp(-b * dt_s);
  step.f(i_e, i_r) = (std::exp(-a * dt_s) - std::exp(-b * dt_s)) / (b - a);
  const double density = 2.0 * model.stray_sd * model.stray_sd * b;
  const double aa = decay_integral(2.0 * a, dt_s);
  const double ab = decay_integral(a + b, dt_s);
  const double bb = decay_integral(2.0 * b, dt_s);
  step.q(i_r, i_r) = density * bb;
  step.q(i_e, i_r) = step.q(i_r, i_e) = density * (ab - bb) / (b - a);
  step.q(i_e, i_e) += density * (aa - 2.0 * ab + bb) / ((b - a) * (b - a));
}

/// tau y2' = y - y2.
void add_second_lag(const MotionModel& model, double dt_s, Transition& step) {
  const double x = dt_s / model.filter.lag_s;
  step.f(i_y2, i_y2) = std::exp(-x);
  step.f(i_y2, i_y) = x * std::exp(-x);
  step.f(i_y2, i_v) = -std::expm1(-x) - x * std::exp(-x);
}

}  // namespace

Transition transition_of(const MotionModel& model, double dt_s, double jerk_factor) {
  Transition step;
  const double q = model.jerk_density * jerk_factor;
  step.f(i_s, i_v) = dt_s;
  step.f.col(i_a) = acceleration_response(model, dt_s);
  step.f(i_y, i_y) = has_filter(model) ? std::exp(-dt_s / model.filter.lag_s) : 0.0;  // 0: y is not used
  step.f(i_y, i_v) = has_filter(model) ? -std::expm1(-dt_s / model.filter.lag_s) : 0.0;
  add_jerk(model, q, dt_s, step);
  const double keep = std::exp(-dt_s / model.slow_time_s);
  step.f(i_e, i_e) = keep;
  step.q(i_e, i_e) = model.slow_sd * model.slow_sd * (1.0 - keep * keep);
  if (model.stray_sd > 0.0) {
    add_stray(model, dt_s, step);
  } else if (has_tracker(model)) {
    add_second_lag(model, dt_s, step);
  } else {
    step.f(i_r, i_r) = 0.0;
  }
  return step;
}

Transition joined(const Transition& first, const Transition& second) {
  return {second.f * first.f, second.f * first.g + second.g,
          second.f * first.q * second.f.transpose() + second.q};
}

State speed_row(const MotionModel& model) {
  State h = State::Zero();
  if (has_tracker(model)) {
    h(i_y) = 2.0;
    h(i_y2) = -1.0;
  } else if (has_filter(model)) {
    h(i_y) = 1.0 - model.filter.feedthrough;
    h(i_v) = model.filter.feedthrough;
  } else {
    h(i_v) = 1.0;
  }
  h(i_e) = 1.0;
  return h;
}

State position_row() {
  State h = State::Zero();
  h(i_s) = 1.0;
  h(i_e) = 1.0;
  return h;
}

}  // namespace bothways::numeric
