#pragma once

#include "bothways/numeric/backward.hpp"
#include "bothways/numeric/motion.hpp"

namespace bothways::numeric {

// What speed readings see of the state: v, a, e and, where the receiver smooths, y. Travel follows from it
// and no speed reading says anything of it, so passes over the early readings, the dearest part of timing a
// run, leave it out; what is left is few enough numbers to go by name.

/// One step: what can be non-zero of Step::f and Step::q.
struct SeenStep {
  bool smoothed = false;  ///< y is used
  double f_va = 0.0;
  double f_ee = 1.0;
  double f_yv = 0.0;
  double f_ya = 0.0;
  double f_yy = 0.0;
  double q_vv = 0.0;
  double q_va = 0.0;
  double q_aa = 0.0;
  double q_ee = 0.0;
  double q_vy = 0.0;
  double q_ay = 0.0;
  double q_yy = 0.0;
  double jerk_y = 0.0;  ///< what a jerk of 1 m/s^3 over the step adds to y; not of steps made by then()
};

/// As step_of().
[[nodiscard]] SeenStep seen_step(const Motion& motion, double dt_s, double jerk_factor = 1.0);

/// Two steps, one after the other, as one.
[[nodiscard]] SeenStep then(const SeenStep& first, const SeenStep& second);

/// A Gaussian belief: means, variances and covariances.
struct SeenBelief {
  double v = 0.0;
  double a = 0.0;
  double e = 0.0;
  double y = 0.0;
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

/// Carries the means over a step, with a constant jerk.
void move_mean(SeenBelief& belief, const SeenStep& step, double jerk);

/// Carries the covariances over a step.
void spread(SeenBelief& belief, const SeenStep& step);

/// What a reading of speed is expected to be, its own noise aside, and how the state goes with it.
struct SeenReading {
  double mean = 0.0;
  double variance = 0.0;
  double v = 0.0;  ///< covariances with it
  double a = 0.0;
  double e = 0.0;
  double y = 0.0;
};
[[nodiscard]] SeenReading reading_of(const SeenBelief& belief, bool smoothed);

/// Takes a reading in: its expected value moves by `shift` times the variance of `at`, and loses `loss` times
/// the square of that variance of it.
void take(SeenBelief& belief, const SeenReading& at, double shift, double loss);

/// log p(later readings) under the belief; they say nothing of the travel.
[[nodiscard]] double log_likelihood(const SeenBelief& belief, bool smoothed, const Information& info);

}  // namespace bothways::numeric
