#pragma once

#include "bothways/numeric/motion.hpp"

#include <cmath>

namespace bothways::numeric {

/// Lower triangle S with S S' = m, for a semi-definite m: what is left of a diagonal entry at or below 1e-13
/// of it counts as zero, and so does its column (test "the root of a semi-definite matrix").
template <int N>
[[nodiscard]] Eigen::Matrix<double, N, N> root_of(const Eigen::Matrix<double, N, N>& m) {
  constexpr double least_share = 1e-13;
  Eigen::Matrix<double, N, N> root = Eigen::Matrix<double, N, N>::Zero();
  for (int j = 0; j < N; ++j) {
    double left = m(j, j);
    for (int k = 0; k < j; ++k) {
      left -= root(j, k) * root(j, k);
    }
    if (!(left > least_share * m(j, j))) {
      continue;
    }
    root(j, j) = std::sqrt(left);
    for (int i = j + 1; i < N; ++i) {
      double sum = m(i, j);
      for (int k = 0; k < j; ++k) {
        sum -= root(i, k) * root(j, k);
      }
      root(i, j) = sum / root(j, j);
    }
  }
  return root;
}

/// (I + S S' L)^-1 for a root S and a semi-definite L, by way of W = I + S' L S, which is symmetric and at
/// least I: with W = R R' and V = S R'^-1 is C = (I + S S' L)^-1 S S' = V V', and the inverse is I - V T'. N:
/// the leading rows and columns in use.
template <int N>
struct Woodbury {
  using Matrix = Eigen::Matrix<double, N, N>;
  Matrix v;
  Matrix t;                   ///< L V
  double half_log_det = 0.0;  ///< log |I + S S' L| / 2

  template <typename Root, typename Information>
  Woodbury(const Root& root, const Information& information) {
    const Matrix s = root.template topLeftCorner<N, N>();
    const Matrix l = information.template topLeftCorner<N, N>();
    Matrix ls;
#pragma GCC unroll 5               // N is known: the loops need not be there
    for (int j = 0; j < N; ++j) {  // S is a lower triangle
      ls.col(j) = l.col(j) * s(j, j);
      for (int k = j + 1; k < N; ++k) {
        ls.col(j) += l.col(k) * s(k, j);
      }
    }
    Matrix r;  // its diagonal as inverse
    double det = 1.0;
#pragma GCC unroll 5
    for (int j = 0; j < N; ++j) {
      v.col(j) = s.col(j);
      double left = 1.0 + product_in_triangle(s, ls, j, j);
      for (int i = 0; i < j; ++i) {
        double sum = product_in_triangle(s, ls, j, i);
        for (int k = 0; k < i; ++k) {
          sum -= r(j, k) * r(i, k);
        }
        r(j, i) = sum * r(i, i);
        left -= r(j, i) * r(j, i);
        v.col(j) -= v.col(i) * r(j, i);
      }
      det *= left;
      r(j, j) = 1.0 / std::sqrt(left);
      v.col(j) *= r(j, j);
    }
    half_log_det = 0.5 * std::log(det);
    t.noalias() = l * v;
  }

 private:
  /// Entry (j, i) of S'X.
  static double product_in_triangle(const Matrix& s, const Matrix& x, int j, int i) {
    double sum = s(j, j) * x(j, i);
    for (int k = j + 1; k < N; ++k) {
      sum += s(k, j) * x(k, i);
    }
    return sum;
  }
};

/// A normal law N(m, P) of a state x and what is known of it besides, exp(-x'Lx/2 + n'x), together.
template <int N>
struct Product {
  using Matrix = Eigen::Matrix<double, N, N>;
  using Vector = Eigen::Matrix<double, N, 1>;
  Woodbury<N> by;
  Vector shift;               ///< V shift is what the mean moves by
  double log_integral = 0.0;  ///< of the product over x

  Product(const Vector& m, const Matrix& p, const Matrix& l, const Vector& n) : by(root_of<N>(p), l) {
    const Vector gap = n - l * m;
    shift = by.v.transpose() * gap;
    // n'm - m'Lm/2 = (n + gap)'m / 2
    log_integral = 0.5 * (n + gap).dot(m) + 0.5 * shift.squaredNorm() - by.half_log_det;
  }
};

}  // namespace bothways::numeric
