#pragma once

// pchip.hpp of Boost 1.74 calls ::isnan, which only the C header declares: it must come first.
// clang-format off
#include <math.h>  // NOLINT(modernize-deprecated-headers): see above
#include <boost/math/interpolators/pchip.hpp>
// clang-format on

#include <cstddef>
#include <utility>
#include <vector>

namespace bothways {

/// Monotone cubic through points [FC80]; beyond the ends it goes on as a straight line.
class Monotone {
 public:
  /// @param x  (n >= 2) strictly increasing
  /// @param y  (n) strictly increasing
  Monotone(std::vector<double> x, std::vector<double> y)
      : lo_(x.front()),
        hi_(x.back()),
        y_lo_(y.front()),
        y_hi_(y.back()),
        cubic_(at_least_four(std::move(x)), at_least_four(std::move(y))) {}

  [[nodiscard]] double operator()(double x) const {
    if (x <= lo_) {
      return y_lo_ + (x - lo_) * cubic_.prime(lo_);
    }
    if (x >= hi_) {
      return y_hi_ + (x - hi_) * cubic_.prime(hi_);
    }
    return cubic_(x);
  }

 private:
  using Cubic = boost::math::interpolators::pchip<std::vector<double>>;

  /// The cubic needs four points: two or three get others on the straight lines between them.
  static std::vector<double> at_least_four(std::vector<double> points) {
    if (points.size() >= 4) {
      return points;
    }
    std::vector<double> more;
    more.reserve(2 * points.size() + 1);
    for (std::size_t i = 0; i + 1 < points.size(); ++i) {
      for (const double share : {0.0, 1.0 / 3.0, 2.0 / 3.0}) {
        more.push_back(points[i] + share * (points[i + 1] - points[i]));
      }
    }
    more.push_back(points.back());
    return more;
  }

  double lo_;
  double hi_;
  double y_lo_;
  double y_hi_;
  Cubic cubic_;
};

}  // namespace bothways
