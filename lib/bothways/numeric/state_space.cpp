#include "bothways/numeric/state_space.hpp"

#include <cmath>

namespace bothways::numeric {

namespace {

constexpr double least_lag_s = 1e-3;

/// Noise of the chain s <- v <- a driven by white jerk of density q [SS19].
void add_chain_noise(double q, double dt, StateMatrix& out) {
  const double dt2 = dt * dt;
  const double dt3 = dt2 * dt;
  out(i_s, i_s) = q * dt2 * dt3 / 20.0;
  out(i_s, i_v) = out(i_v, i_s) = q * dt2 * dt2 / 8.0;
  out(i_s, i_a) = out(i_a, i_s) = q * dt3 / 6.0;
  out(i_v, i_v) = q * dt3 / 3.0;
  out(i_v, i_a) = out(i_a, i_v) = q * dt2 / 2.0;
  out(i_a, i_a) = q * dt;
}

/// y obeys tau y' = v - y. With k = 1/tau, v(t) = v + a t + integral of (t-u) w du, the response of y to v, a
/// and to a jerk impulse u seconds before the end.
struct LagResponse {
  double from_y;
  double from_v;
  double from_a;
};

LagResponse lag_response(double lag_s, double dt) {
  const double decay = std::exp(-dt / lag_s);
  return {decay, 1.0 - decay, dt - lag_s * (1.0 - decay)};
}

/// y at u seconds after a unit step of acceleration: u - tau (1 - exp(-u/tau)).
double lag_impulse(double lag_s, double u) {
  return u + lag_s * std::expm1(-u / lag_s);
}

void add_lag_noise(double q, double lag_s, double dt, StateMatrix& out) {
  // Five-point Gauss-Legendre over the impulse age; error below 1e-6 of the value up to
  // dt = lag, 3e-4 beyond (test "the noise of the lagged speed is Van Loan's integral").
  static constexpr double node[] = {0.046910077030668, 0.230765344947158, 0.5, 0.769234655052842,
                                    0.953089922969332};
  static constexpr double weight[] = {0.118463442528095, 0.239314335249683, 0.284444444444444,
                                      0.239314335249683, 0.118463442528095};
  double ys = 0.0;
  double yv = 0.0;
  double ya = 0.0;
  double yy = 0.0;
  for (int i = 0; i < 5; ++i) {
    const double u = node[i] * dt;
    const double w = weight[i] * dt;
    const double g = lag_impulse(lag_s, u);
    ys += w * g * u * u / 2.0;
    yv += w * g * u;
    ya += w * g;
    yy += w * g * g;
  }
  out(i_y, i_s) = out(i_s, i_y) = q * ys;
  out(i_y, i_v) = out(i_v, i_y) = q * yv;
  out(i_y, i_a) = out(i_a, i_y) = q * ya;
  out(i_y, i_y) = q * yy;
}

/// Integral of exp(-k u) over 0..dt.
double decay_integral(double k, double dt) {
  return -std::expm1(-k * dt) / k;
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

/// What a constant jerk of 1 m/s^3 over dt adds to the state at its end.
State jerk_response(const MotionModel& model, double dt_s) {
  State x = State::Zero();
  const double dt2 = dt_s * dt_s;
  x(i_s) = dt2 * dt_s / 6.0;
  x(i_v) = dt2 / 2.0;
  x(i_a) = dt_s;
  if (model.lag_s >= least_lag_s) {
    // the integral of lag_impulse over 0..dt
    const double lag = model.lag_s;
    x(i_y) = dt2 / 2.0 - lag * dt_s - lag * lag * std::expm1(-dt_s / lag);
  }
  return x;
}

}  // namespace

Transition transition_of(const MotionModel& model, double dt_s, double jerk_factor) {
  Transition step;
  const double q = model.jerk_density * jerk_factor;
  step.f(i_s, i_v) = dt_s;
  step.f(i_s, i_a) = dt_s * dt_s / 2.0;
  step.f(i_v, i_a) = dt_s;
  add_chain_noise(q, dt_s, step.q);
  if (model.lag_s >= least_lag_s) {
    const LagResponse lag = lag_response(model.lag_s, dt_s);
    step.f(i_y, i_y) = lag.from_y;
    step.f(i_y, i_v) = lag.from_v;
    step.f(i_y, i_a) = lag.from_a;
    add_lag_noise(q, model.lag_s, dt_s, step.q);
  } else {
    step.f(i_y, i_y) = 0.0;  // y is not used; keep it out of the way
  }
  const double keep = std::exp(-dt_s / model.slow_time_s);
  step.f(i_e, i_e) = keep;
  step.q(i_e, i_e) = model.slow_sd * model.slow_sd * (1.0 - keep * keep);
  if (model.stray_sd > 0.0) {
    add_stray(model, dt_s, step);
  } else {
    step.f(i_r, i_r) = 0.0;
  }
  step.g = jerk_response(model, dt_s);
  return step;
}

State speed_row(const MotionModel& model) {
  State h = State::Zero();
  h(model.lag_s >= least_lag_s ? i_y : i_v) = 1.0;
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
