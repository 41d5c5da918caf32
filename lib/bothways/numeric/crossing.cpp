#include "bothways/numeric/crossing.hpp"

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
  for (int i = 0; i < 30; ++i) {
    const double mid = 0.5 * (lo + hi);
    (cubic.value(mid) < level ? lo : hi) = mid;
  }
  return 0.5 * (lo + hi);
}

}  // namespace bothways::numeric
