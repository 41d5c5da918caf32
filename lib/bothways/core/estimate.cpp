#include "bothways/core/estimate.hpp"

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

Estimate normal_estimate(double value, double sd) {
  require_measured(value, sd);
  return {value, sd, value - normal_95 * sd, value + normal_95 * sd};
}

}  // namespace bothways
