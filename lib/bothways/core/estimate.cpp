#include "bothways/core/estimate.hpp"

#include <boost/math/distributions/students_t.hpp>

#include <cmath>
#include <stdexcept>

namespace bothways {

namespace {

constexpr double normal_95 = 1.959963984540054;  // 0.975 quantile of the normal distribution

void require_measured(double value, double sd) {
  if (!std::isfinite(value) || !std::isfinite(sd) || sd < 0.0) {
    throw std::invalid_argument("an estimate needs a finite value and a finite sd >= 0");
  }
}

}  // namespace

double student_t95(double degrees_of_freedom) {
  if (!(degrees_of_freedom > 0.0)) {
    throw std::invalid_argument("degrees of freedom must be > 0");
  }
  if (degrees_of_freedom > 1e6) {
    return normal_95;
  }
  return boost::math::quantile(boost::math::students_t(degrees_of_freedom), 0.975);
}

Estimate normal_estimate(double value, double sd) {
  require_measured(value, sd);
  return {value, sd, value - normal_95 * sd, value + normal_95 * sd};
}

Estimate student_estimate(double value, double sd, double degrees_of_freedom) {
  require_measured(value, sd);
  const double half = student_t95(degrees_of_freedom) * sd;
  return {value, sd, value - half, value + half};
}

}  // namespace bothways
