#pragma once

namespace bothways::sim {

/// What a step changes.
struct Change {
  double s_m = 0.0;
  double v_mps = 0.0;
};

/// One step of h s of the classical Runge-Kutta method, of order four, for v' = a(t, v, s), s' = v.
template <class Acceleration>
[[nodiscard]] Change runge_kutta_4(double t, double v, double s, double h, const Acceleration& a) {
  const double a1 = a(t, v, s);
  const double v2 = v + 0.5 * h * a1;
  const double a2 = a(t + 0.5 * h, v2, s + 0.5 * h * v);
  const double v3 = v + 0.5 * h * a2;
  const double a3 = a(t + 0.5 * h, v3, s + 0.5 * h * v2);
  const double v4 = v + h * a3;
  const double a4 = a(t + h, v4, s + h * v3);
  return {h / 6.0 * (v + 2.0 * v2 + 2.0 * v3 + v4), h / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4)};
}

}  // namespace bothways::sim
