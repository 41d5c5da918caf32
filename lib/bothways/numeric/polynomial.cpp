#include "bothways/numeric/polynomial.hpp"

#include <Eigen/QR>

#include <algorithm>
#include <numeric>

namespace bothways::numeric {

namespace {

using Powers = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, Eigen::Dynamic, 4>;

}  // namespace

Polynomial::Polynomial(std::span<const double> t, std::span<const double> y, int degree) {
  const auto n = static_cast<Eigen::Index>(t.size());
  const Eigen::Index terms = std::min<Eigen::Index>(degree + 1, n);
  centre_ = std::accumulate(t.begin(), t.end(), 0.0) / static_cast<double>(n);
  scale_ = std::max(t.back() - t.front(), 1e-9);
  Powers powers(n, terms);
  powers.col(0).setOnes();
  const Eigen::Map<const Eigen::ArrayXd> at(t.data(), n);
  for (Eigen::Index k = 1; k < terms; ++k) {
    powers.col(k) = powers.col(k - 1).array() * (at - centre_) / scale_;
  }
  const Eigen::Map<const Eigen::VectorXd> values(y.data(), n);
  coefficients_.head(terms) = powers.householderQr().solve(values);
}

double Polynomial::at(double t) const {
  const double u = (t - centre_) / scale_;
  return coefficients_(0) + u * (coefficients_(1) + u * (coefficients_(2) + u * coefficients_(3)));
}

}  // namespace bothways::numeric
