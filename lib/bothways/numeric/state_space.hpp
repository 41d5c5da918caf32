#pragma once

// numeric/ is the private mathematics: the state-space model, its filters and smoothers, mixtures, robust
// figures.

#include "bothways/core/speed_filter.hpp"

#include <Eigen/Core>

namespace bothways::numeric {

/// State of a vehicle seen through a receiver: travel s (m), speed v (m/s), acceleration a (m/s^2), the
/// slowly drifting error of the reading e, the speed as the receiver's internal smoothing shows it, y (m/s),
/// and the rate r at which a filtered position goes astray (m/s) or, where readings are speeds of a receiver
/// that tracks acceleration, y smoothed once more, y2 (m/s): no log has both.
inline constexpr int state_size = 6;
using State = Eigen::Matrix<double, state_size, 1>;
using StateMatrix = Eigen::Matrix<double, state_size, state_size>;
enum StateIndex { i_s = 0, i_v = 1, i_a = 2, i_e = 3, i_y = 4, i_r = 5, i_y2 = 5 };

/// Parameters of the continuous-time model, eq. (1.1) of docs/method.md.
struct MotionModel {
  double jerk_density = 4.0;       ///< q, m^2/s^5, > 0: of the white noise that drives a
  SpeedFilter filter;              ///< tau and which law of y; without a filter y is not used; none of the
                                   ///< tracker with stray_sd > 0
  double slow_sd = 0.05;           ///< sd_e, stationary sd of e, m/s (speed readings) or m (positions), >= 0
  double slow_time_s = 5.0;        ///< T, correlation time of e, s, > 0
  double stray_sd = 0.0;           ///< sd_r, stationary sd of r, m/s, >= 0; 0: r is not used
  double stray_time_s = 2.0;       ///< T_r, correlation time of r, s, > 0, not T
  double accel_decay_per_s = 0.0;  ///< 1 / T_a, >= 0: a falls towards 0 in T_a; 0: a is a Wiener process
};

/// One step of dt: x' = F x + g j + w, w ~ N(0, Q), for a known constant jerk j (m/s^3) over the step.
struct Transition {
  StateMatrix f = StateMatrix::Identity();  ///< transition matrix
  State g = State::Zero();                  ///< response to a jerk of 1 m/s^3
  StateMatrix q = StateMatrix::Zero();      ///< covariance of the process noise
};

/// Discretisation of (1.1) over dt > 0 s [SS19]. F is exact; what the noise of a leaves by a five-point
/// quadrature: exact for s, v and a without decay and to 1e-10 with it, for y to 1e-6 of the value up to
/// dt = tau and 3e-4 beyond, for y2 to 1e-5 and 2e-3.
/// @param jerk_factor  scales the jerk density of this step only
[[nodiscard]] Transition transition_of(const MotionModel& model, double dt_s, double jerk_factor = 1.0);

/// Two steps one after the other as one, of the same jerk.
[[nodiscard]] Transition joined(const Transition& first, const Transition& second);

/// Measurement rows h of z = h x + white noise, eq. (1.2): speed readings see y (v without lag, c v + (1 - c)
/// y where a share c is direct, 2 y - y2 of a receiver that tracks acceleration) + e, positions see s + e.
[[nodiscard]] State speed_row(const MotionModel& model);
[[nodiscard]] State position_row();

}  // namespace bothways::numeric
