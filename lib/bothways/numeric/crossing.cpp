#include "bothways/numeric/crossing.hpp"

#include <cmath>

namespace bothways::numeric {

double Cubic::value(double t) const {
  const double h = t1 - t0;
  const double u = (t - t0) / h;
  const double u2 = u * u;
  const double u3 = u2 * u;
  return y0 * (2 * u3 - 3 * u2 + 1) + slope0 * h * (u3 - 2 * u2 + u) + y1 * (3 * u2 - 2 * u3) +
         slope1 * h * (u3 - u2);
}

double Cubic::slope(double t) const {
  const double h = t1 - t0;
  const double u = (t - t0) / h;
  return (y1 - y0) * (6 * u - 6 * u * u) / h + slope0 * (3 * u * u - 4 * u + 1) +
         slope1 * (3 * u * u - 2 * u);
}

std::optional<double> rising_crossing(const Cubic& cubic, double level) {
  if (!(cubic.y0 < level && level <= cubic.y1)) {
    return std::nullopt;
  }
  double lo = cubic.t0;
  double hi = cubic.t1;
  // Newton's steps from the straight line, kept within what is known; halving where they do not help.
  const double exact = 1e-9 * (hi - lo);
  double t = lo + (hi - lo) * (level - cubic.y0) / (cubic.y1 - cubic.y0);
  for (int i = 0; i < 60 && hi - lo > exact; ++i) {
    const double off = level - cubic.value(t);
    (off > 0.0 ? lo : hi) = t;
    double next = t + off / cubic.slope(t);
    if (!(next > lo && next < hi) || i % 8 == 7) {
      next = 0.5 * (lo + hi);
    }
    if (std::abs(next - t) < exact) {
      return next;
    }
    t = next;
  }
  return t;
}

}  // namespace bothways::numeric
