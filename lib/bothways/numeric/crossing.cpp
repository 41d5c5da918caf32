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
  // The cubic as a polynomial of u = 0..1, less the level.
  const double h = cubic.t1 - cubic.t0;
  const double rise = cubic.y1 - cubic.y0;
  const double c1 = cubic.slope0 * h;
  const double c2 = 3.0 * rise - 2.0 * c1 - cubic.slope1 * h;
  const double c3 = rise - c1 - c2;
  const double below = level - cubic.y0;
  // Newton's steps from the straight line, kept within what is known; halving where they do not help.
  constexpr double exact = 1e-9;
  double lo = 0.0;
  double hi = 1.0;
  double u = below / rise;
  for (int i = 0; i < 60 && hi - lo > exact; ++i) {
    const double off = below - u * (c1 + u * (c2 + u * c3));
    (off > 0.0 ? lo : hi) = u;
    double next = u + off / (c1 + u * (2.0 * c2 + u * 3.0 * c3));
    if (!(next > lo && next < hi) || i % 8 == 7) {
      next = 0.5 * (lo + hi);
    }
    const bool found = std::abs(next - u) < exact;
    u = next;
    if (found) {
      break;
    }
  }
  return cubic.t0 + u * h;
}

}  // namespace bothways::numeric
