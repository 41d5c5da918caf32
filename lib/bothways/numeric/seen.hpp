#pragma once

#include "bothways/numeric/backward.hpp"
#include "bothways/numeric/motion.hpp"

namespace bothways::numeric {

// What speed readings see of the state: v, a, e and, where the receiver smooths, y. Travel follows from it
// and no speed reading says anything of it, so passes over the early readings, the dearest part of timing a
// run, leave it out; what is left is few enough numbers to go by name.

/// Variances and covariances.
struct SeenCovariance {
  double vv = 0.0;
  double va = 0.0;
  double ve = 0.0;
  double aa = 0.0;
  double ae = 0.0;
  double ee = 0.0;
  double vy = 0.0;
  double ay = 0.0;
  double ey = 0.0;
  double yy = 0.0;
};

/// One step: what can be non-zero of Step::f, and Step::q.
struct SeenStep {
  bool smoothed = false;  ///< y is used
  double f_va = 0.0;
  double f_ee = 1.0;
  double f_yv = 0.0;
  double f_ya = 0.0;
  double f_yy = 0.0;
  SeenCovariance q;
  double jerk_y = 0.0;  ///< what a jerk of 1 m/s^3 over the step adds to y; not of steps made by then()
};

/// As step_of().
[[nodiscard]] SeenStep seen_step(const Motion& motion, double dt_s, double jerk_factor = 1.0);

/// Two steps, one after the other, as one.
[[nodiscard]] SeenStep then(const SeenStep& first, const SeenStep& second);

/// A Gaussian belief.
struct SeenBelief : SeenCovariance {
  double v = 0.0;  ///< means
  double a = 0.0;
  double e = 0.0;
  double y = 0.0;
};

/// Carries the means over a step, with a constant jerk.
inline void move_mean(SeenBelief& b, const SeenStep& step, double jerk) {
  if (step.smoothed) {
    b.y = step.f_yv * b.v + step.f_ya * b.a + step.f_yy * b.y + step.jerk_y * jerk;
  }
  b.v += step.f_va * (b.a + 0.5 * step.f_va * jerk);
  b.a += step.f_va * jerk;  // f_va is the length of the step
  b.e *= step.f_ee;
}

/// Carries the covariances over a step.
inline void spread(SeenCovariance& b, const SeenStep& step) {
  if (step.smoothed) {  // f_y P f_y' + q of row y, before the rows it is made of change
    const double yv = step.f_yv * b.vv + step.f_ya * b.va + step.f_yy * b.vy;
    const double ya = step.f_yv * b.va + step.f_ya * b.aa + step.f_yy * b.ay;
    const double ye = step.f_yv * b.ve + step.f_ya * b.ae + step.f_yy * b.ey;
    const double yy = step.f_yv * b.vy + step.f_ya * b.ay + step.f_yy * b.yy;
    b.yy = step.f_yv * yv + step.f_ya * ya + step.f_yy * yy + step.q.yy;
    b.vy = yv + step.f_va * ya + step.q.vy;
    b.ay = ya + step.q.ay;
    b.ey = step.f_ee * ye;
  }
  const double va = b.va + step.f_va * b.aa;
  b.vv += step.f_va * (b.va + va) + step.q.vv;
  b.ve = step.f_ee * (b.ve + step.f_va * b.ae);
  b.va = va + step.q.va;
  b.aa += step.q.aa;
  b.ae *= step.f_ee;
  b.ee = step.f_ee * step.f_ee * b.ee + step.q.ee;
}

/// What a reading of speed is expected to be, its own noise aside, and how the state goes with it.
struct SeenReading {
  double mean = 0.0;
  double variance = 0.0;
  double v = 0.0;  ///< covariances with it
  double a = 0.0;
  double e = 0.0;
  double y = 0.0;
};
[[nodiscard]] inline SeenReading reading_of(const SeenBelief& b, bool smoothed) {
  if (smoothed) {
    return {b.y + b.e, b.yy + 2.0 * b.ey + b.ee, b.vy + b.ve, b.ay + b.ae, b.ey + b.ee, b.yy + b.ey};
  }
  return {b.v + b.e, b.vv + 2.0 * b.ve + b.ee, b.vv + b.ve, b.va + b.ae, b.ve + b.ee, 0.0};
}

/// Takes a reading in: its expected value moves by `shift` times the variance of `at`, and loses `loss` times
/// the square of that variance of it.
inline void take(SeenBelief& b, const SeenReading& at, double shift, double loss) {
  b.v += at.v * shift;
  b.a += at.a * shift;
  b.e += at.e * shift;
  b.y += at.y * shift;
  b.vv -= loss * at.v * at.v;
  b.va -= loss * at.v * at.a;
  b.ve -= loss * at.v * at.e;
  b.aa -= loss * at.a * at.a;
  b.ae -= loss * at.a * at.e;
  b.ee -= loss * at.e * at.e;
  b.vy -= loss * at.v * at.y;
  b.ay -= loss * at.a * at.y;
  b.ey -= loss * at.e * at.y;
  b.yy -= loss * at.y * at.y;
}

/// log p(later readings) under the belief; they say nothing of the travel.
[[nodiscard]] double log_likelihood(const SeenBelief& belief, bool smoothed, const Information& info);

}  // namespace bothways::numeric
