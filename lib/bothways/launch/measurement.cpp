#include "bothways/launch/measurement.hpp"

#include <boost/math/special_functions/bessel.hpp>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways {

namespace {

constexpr double tiny = 1e-300;
constexpr double least_shown = 1e-6;
constexpr double far_width_mps = 0.3;

double normal_cdf(double x) {
  return 0.5 * std::erfc(-x / std::numbers::sqrt2);
}

/// P(the receiver writes 0 | speed).
double censored_probability(const DeadBand& band, const numeric::Normal& v) {
  const double near =
      normal_cdf((band.hold_mps - v.mean) / std::sqrt(band.width_mps * band.width_mps + v.variance));
  if (band.far_share <= 0.0) {
    return near;
  }
  const double far =
      normal_cdf((band.far_mps - v.mean) / std::sqrt(far_width_mps * far_width_mps + v.variance));
  return (1.0 - band.far_share) * near + band.far_share * far;
}

/// exp(-x) I_order(x) for 0 <= x <= 30.
double scaled_bessel(int order, double x) {
  using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
  return std::exp(-x) * boost::math::cyl_bessel_i(order, x, Policy());
}

}  // namespace

double log_censored(const DeadBand& band, const numeric::Normal& speed_mps) {
  return std::log(std::max(censored_probability(band, speed_mps), tiny));
}

double log_not_censored(const DeadBand& band, const numeric::Normal& speed_mps) {
  if (band.hold_mps <= 0.0) {
    return 0.0;
  }
  return std::log(std::max(1.0 - censored_probability(band, speed_mps), least_shown));
}

double not_rounded_away(double z, const LaunchModel& model) {
  return std::max(z, 0.25 * model.resolution_mps + 1e-6);
}

LengthPosterior length_posterior(double z, const numeric::Normal& u, int axes) {
  LengthPosterior out;
  const double z_per_variance = z / u.variance;
  const double k = z_per_variance * u.mean;  // concentration
  const double gap = z - std::abs(u.mean);
  const double log_near = -0.5 * gap * gap / u.variance;
  if (axes == 1) {
    const double other = std::exp(-2.0 * std::abs(k));
    out.log_density = log_near + std::log1p(other) - 0.5 * std::log(2.0 * std::numbers::pi * u.variance);
    const double sign = std::tanh(k);
    out.part = {sign * z, z * z * (1.0 - sign * sign)};
    return out;
  }
  const double size = std::abs(k);
  double i0_scaled = 0.0;
  double resultant = 0.0;
  if (size > 30.0) {  // asymptotic series
    i0_scaled = (1.0 + 0.125 / size) / std::sqrt(2.0 * std::numbers::pi * size);
    resultant = 1.0 - 0.5 / size - 0.125 / (size * size);
  } else {
    i0_scaled = scaled_bessel(0, size);
    resultant = scaled_bessel(1, size) / i0_scaled;
  }
  out.log_density = std::log(std::max(z_per_variance * i0_scaled, tiny)) + log_near;
  const double cos_square = size > 1e-6 ? 1.0 - resultant / size : 0.5;
  out.part = {std::copysign(resultant, k) * z, z * z * std::max(cos_square - resultant * resultant, 0.0)};
  return out;
}

}  // namespace bothways
