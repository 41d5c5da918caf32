#include "bothways/launch/measurement.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>

namespace bothways {

namespace {

constexpr double tiny = 1e-300;
constexpr double least_shown = 0.02;  // a wild reading lets a hold go
constexpr double far_width_mps = 0.3;
constexpr double far_square = 25.0;         // of z over the noise: the direction is known then
constexpr double surely_forward_sds = 5.5;  // 2e-8 are left
constexpr double negligible_log = -20.0;    // of a direction, beside a sum that is
constexpr double large_sum = 0.1;           // so large
constexpr double least_speed_share = 1e-6;  // of the variance: else the speed is known
constexpr double panel_sds = 2.0;           // over so many sd of the noise three points of a panel serve
constexpr double most_panels = 4.0;
constexpr double least_variance_steps = 1.0 / 36.0;  // of the noise, in steps: the panels serve so far

/// Places and weights of Gauss-Legendre on 0 to 1.
constexpr std::array<std::array<double, 2>, 3> gauss_points{
    {{0.1127016653792583, 5.0 / 18.0}, {0.5, 8.0 / 18.0}, {0.8872983346207417, 5.0 / 18.0}}};

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

/// The density of u: normal, but for the speed in it being >= 0.
class ForwardPart {
 public:
  explicit ForwardPart(const ExpectedLength& expected) : u_(expected.u), noise_(u_.variance) {
    const double share = expected.speed.variance / u_.variance;
    const double sd =
        std::sqrt(std::max(expected.speed.variance * (1.0 - share), 0.0));  // of the speed, given u
    if (share > least_speed_share && sd > 0.0) {
      gain_ = share / sd;
      offset_ = (expected.speed.mean - share * u_.mean) / sd;
      log_total_ =
          std::log(std::max(normal_cdf(expected.speed.mean / std::sqrt(expected.speed.variance)), tiny));
      noise_ = u_.variance * (1.0 - share);
    }
  }
  /// log of the normal part, up to a constant.
  [[nodiscard]] double log_normal(double u) const {
    const double off = u - u_.mean;
    return -0.5 * off * off / u_.variance;
  }
  /// P(speed >= 0 | u).
  [[nodiscard]] double forward(double u) const {
    const double sds = offset_ + gain_ * u;
    return gain_ > 0.0 && sds < surely_forward_sds ? std::max(normal_cdf(sds), tiny) : 1.0;
  }
  [[nodiscard]] double log_density(double u) const {
    return log_normal(u) + (gain_ > 0.0 ? std::log(forward(u)) : 0.0) - log_total_;
  }
  [[nodiscard]] double log_total() const { return log_total_; }
  [[nodiscard]] double mean() const { return u_.mean; }
  [[nodiscard]] double variance() const { return u_.variance; }
  [[nodiscard]] double noise_variance() const { return noise_; }  ///< of u, given the speed

 private:
  numeric::Normal u_;
  double noise_;
  double gain_ = 0.0;  ///< 0: the speed is known, nothing is cut off
  double offset_ = 0.0;
  double log_total_ = 0.0;
};

/// Both signs of u.
LengthPosterior folded_normal(double z, const ForwardPart& part) {
  const double ahead = part.log_density(z);
  const double back = part.log_density(-z);
  const double most = std::max(ahead, back);
  const double sum = std::exp(ahead - most) + std::exp(back - most);
  const double mean = z * (std::exp(ahead - most) - std::exp(back - most)) / sum;
  return {most + std::log(sum) - 0.5 * std::log(2.0 * std::numbers::pi * part.variance()),
          {mean, std::max(z * z - mean * mean, 0.0)}};
}

/// Cosines of the directions of a vector, half a circle: both halves are alike.
constexpr std::size_t directions = 96;
constexpr std::size_t half_circle = directions / 2;
using Cosines = std::array<double, half_circle + 1>;
Cosines cosines() {
  Cosines out{};
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i] = std::cos(2.0 * std::numbers::pi * static_cast<double>(i) / directions);
  }
  return out;
}

/// Each how many of them are enough: the log of the integrand is of size kappa in cos w, and of a quarter of
/// that in cos^2 w, which asks for more than the cosine alone. Found by trying: 2e-3 of the log density
/// at most, 1e-5 as a rule.
std::size_t stride_for(double kappa) {
  constexpr double enough = 28.0;  // n^2 / kappa
  for (const std::size_t stride : {12U, 8U, 6U, 4U, 3U, 2U}) {
    const std::size_t n = directions / stride;
    if (static_cast<double>(n * n) > enough * kappa) {
      return stride;
    }
  }
  return 1;
}

/// p(z) = z * integral of p(u = z cos w) N(z sin w; 0, r) dw, by the periodic trapezoid. The log of the two
/// normal laws is of second degree in cos w.
LengthPosterior by_quadrature(double z, const ForwardPart& part, double across_variance) {
  static const Cosines cosine = cosines();
  const double kappa =
      z * std::max(z, std::abs(part.mean())) / std::min(across_variance, part.noise_variance());
  const std::size_t stride = stride_for(kappa);
  const double linear = z * part.mean() / part.variance();
  const double square = 0.5 * z * z * (1.0 / across_variance - 1.0 / part.variance());
  double most = -std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i <= half_circle; i += stride) {
    most = std::max(most, cosine[i] * (linear + cosine[i] * square));
  }
  double sum = 0.0;
  double first = 0.0;
  double second = 0.0;
  for (std::size_t i = 0; i <= half_circle; i += stride) {
    const double c = cosine[i];
    const double below = c * (linear + c * square) - most;
    if (below < negligible_log && sum > large_sum) {
      continue;
    }
    const double along = z * c;
    const double ends = i == 0 || i == half_circle ? 0.5 : 1.0;
    const double p = ends * std::exp(below) * part.forward(along);
    sum += p;
    first += p * along;
    second += p * along * along;
  }
  const double mean = first / sum;
  // Twice for the other half of the circle, 2 pi / n a direction, over 2 pi for two normal laws.
  const double share = static_cast<double>(stride) / directions;
  const double density = 2.0 * share * z * sum / std::sqrt(part.variance() * across_variance);
  return {most + part.log_normal(0.0) - 0.5 * z * z / across_variance - part.log_total() + std::log(density),
          {mean, std::max(second / sum - mean * mean, 0.0)}};
}

/// A length far above the noise c across: c adds c^2 / (2 z) to it, and what is left is u.
LengthPosterior far_from_rest(double z, const ExpectedLength& expected) {
  const double excess = 0.5 * expected.across_variance / z;
  const double spread = 2.0 * excess * excess;  // c^2 is chi-squared with one degree of freedom
  ExpectedLength wider = expected;
  wider.u.variance += spread;
  const ForwardPart part(wider);
  return {part.log_density(z - excess) - 0.5 * std::log(2.0 * std::numbers::pi * part.variance()),
          {z - excess, spread}};
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

LengthPosterior length_posterior(double z, const ExpectedLength& expected, int axes) {
  if (axes == 1) {
    return folded_normal(z, ForwardPart(expected));
  }
  return z * z > far_square * expected.across_variance
             ? far_from_rest(z, expected)
             : by_quadrature(z, ForwardPart(expected), expected.across_variance);
}

LengthPosterior rounded_length_posterior(double z, double step, const ExpectedLength& expected, int axes) {
  const double from = std::max(0.0, z - 0.5 * step);
  const double width = z + 0.5 * step - from;
  const double sd =
      std::sqrt(axes == 1 ? expected.u.variance : std::min(expected.u.variance, expected.across_variance));
  const auto panels =
      static_cast<std::size_t>(std::clamp(std::ceil(width / (panel_sds * sd)), 1.0, most_panels));
  std::array<LengthPosterior, static_cast<std::size_t>(most_panels) * gauss_points.size()> parts;
  double most = -std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < panels * gauss_points.size(); ++i) {
    const auto& [place, weight] = gauss_points[i % gauss_points.size()];
    const double panel = width / static_cast<double>(panels);
    const std::size_t panels_before = i / gauss_points.size();
    const double at = from + panel * (static_cast<double>(panels_before) + place);
    parts[i] = length_posterior(at, expected, axes);
    parts[i].log_density += std::log(weight * panel / step);
    most = std::max(most, parts[i].log_density);
  }
  double sum = 0.0;
  double first = 0.0;
  double second = 0.0;
  for (std::size_t i = 0; i < panels * gauss_points.size(); ++i) {
    const double p = std::exp(parts[i].log_density - most);
    sum += p;
    first += p * parts[i].part.mean;
    second += p * (parts[i].part.variance + parts[i].part.mean * parts[i].part.mean);
  }
  const double mean = first / sum;
  return {most + std::log(sum), {mean, std::max(second / sum - mean * mean, 0.0)}};
}

LengthPosterior written_length_posterior(double z, const ExpectedLength& expected, const LaunchModel& model) {
  return model.rounding_mps > 0.0 ? rounded_length_posterior(z, model.rounding_mps, expected, model.rest_axes)
                                  : length_posterior(not_rounded_away(z, model), expected, model.rest_axes);
}

double without_rounding(double variance, const LaunchModel& model) {
  const double d = model.rounding_mps;
  return d > 0.0 ? std::max(variance - d * d / 12.0, d * d * least_variance_steps) : variance;
}

}  // namespace bothways
