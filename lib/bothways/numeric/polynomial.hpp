#pragma once

#include <Eigen/Core>

#include <span>

namespace bothways::numeric {

/// A polynomial of degree 3 at most.
class Polynomial {
 public:
  /// Of least squares through points; of a lower degree where they are too few.
  /// @param t, y    (n) n >= 1
  /// @param degree  0 to 3
  Polynomial(std::span<const double> t, std::span<const double> y, int degree);

  [[nodiscard]] double at(double t) const;

 private:
  double centre_ = 0.0;
  double scale_ = 1.0;
  Eigen::Vector4d coefficients_ = Eigen::Vector4d::Zero();  ///< of powers of (t - centre) / scale
};

}  // namespace bothways::numeric
