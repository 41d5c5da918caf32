#pragma once

#include <Eigen/Core>

namespace bothways::numeric {

/// State of a vehicle seen through a receiver: travel s (m), speed v (m/s), acceleration a (m/s^2), the
/// slowly drifting error of the reading e, and the speed as the receiver's internal smoothing shows it y
/// (m/s). y comes last: without smoothing it is not used, and the first four are all there is.
inline constexpr int state_size = 5;
inline constexpr int plain_size = 4;  ///< without y
using State = Eigen::Matrix<double, state_size, 1>;
using StateMatrix = Eigen::Matrix<double, state_size, state_size>;
enum StateIndex { i_s = 0, i_v = 1, i_a = 2, i_e = 3, i_y = 4 };

/// What moves the state: docs/method.md, eq. (1).
struct Motion {
  double jerk_density = 4.0;  ///< q, m^2/s^5, > 0: a is a Wiener process
  double lag_s = 0.0;         ///< time constant of y; below 1e-3 y is v
  double slow_sd = 0.05;      ///< stationary sd of e, m/s (speed readings) or m (positions), >= 0
  double slow_time_s = 5.0;   ///< correlation time of e, s, > 0

  [[nodiscard]] bool operator==(const Motion&) const = default;
};

/// One step of dt: x' = F x + noise of covariance Q.
struct Step {
  StateMatrix f = StateMatrix::Identity();
  StateMatrix q = StateMatrix::Zero();
  StateMatrix root = StateMatrix::Zero();  ///< lower triangle with root root' = q

  [[nodiscard]] bool smoothed() const { return f(i_y, i_v) != 0.0; }  ///< y is used
};

/// Exact discretisation over dt > 0 s; `jerk_factor` scales the jerk density of this step only.
[[nodiscard]] Step step_of(const Motion& motion, double dt_s, double jerk_factor = 1.0);

/// The same without its root.
[[nodiscard]] Step unrooted_step(const Motion& motion, double dt_s, double jerk_factor);

/// m f for a transition matrix, in the leading N rows and columns: only what can be non-zero in f is
/// multiplied.
template <int N>
[[nodiscard]] Eigen::Matrix<double, N, N> times_transition(const Eigen::Matrix<double, N, N>& m,
                                                           const StateMatrix& f) {
  Eigen::Matrix<double, N, N> out;
  out.col(i_s) = m.col(i_s);
  out.col(i_v) = f(i_s, i_v) * m.col(i_s) + m.col(i_v);
  out.col(i_a) = f(i_s, i_a) * m.col(i_s) + f(i_v, i_a) * m.col(i_v) + m.col(i_a);
  out.col(i_e) = f(i_e, i_e) * m.col(i_e);
  if constexpr (N > i_y) {
    out.col(i_v) += f(i_y, i_v) * m.col(i_y);
    out.col(i_a) += f(i_y, i_a) * m.col(i_y);
    out.col(i_y) = f(i_y, i_y) * m.col(i_y);
  }
  return out;
}

/// What a constant jerk (m/s^3) over dt adds to the state at its end.
[[nodiscard]] State jerk_response(const Motion& motion, double jerk, double dt_s);

/// The reading's row h: z = h x + white noise. Speed readings see y (or v without lag) + e, positions see s +
/// e.
[[nodiscard]] State reading_of_speed(const Motion& motion);
[[nodiscard]] State reading_of_position();

}  // namespace bothways::numeric
