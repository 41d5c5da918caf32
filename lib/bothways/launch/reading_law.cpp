#include "bothways/launch/reading_law.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace bothways {

namespace {

constexpr double tiny = 1e-300;
constexpr double least_shown = 1e-6;

double normal_cdf(double x) {
  return 0.5 * std::erfc(-x / std::numbers::sqrt2);
}

/// P(the receiver writes 0 | speed ~ N(v, sd)).
double held_probability(const ZeroHold& hold, double v_mps, double sd_mps) {
  const double near = normal_cdf((hold.hold_mps - v_mps) / std::hypot(hold.width_mps, sd_mps));
  if (hold.far_share <= 0.0) {
    return near;
  }
  const double far = normal_cdf((hold.far_mps - v_mps) / std::hypot(0.3, sd_mps));
  return (1.0 - hold.far_share) * near + hold.far_share * far;
}

struct Bessel {
  double i0 = 1.0;  ///< exp(-x) I0(x)
  double i1 = 0.0;
};

/// Even and odd powers apart: neither waits for the other.
template <std::size_t N>
double polynomial(const std::array<double, N>& c, double x) {
  static_assert(N % 2 == 1);
  const double square = x * x;
  double even = c[N - 1];
  double odd = 0.0;
  for (std::size_t i = N - 1; i > 0; i -= 2) {
    odd = odd * square + c[i - 1];
    even = even * square + c[i - 2];
  }
  return even + x * odd;
}

/// Polynomials 9.8.1 to 9.8.4 of [AS64]; right to 5e-7 of the value. x >= 0.
Bessel scaled_bessel(double x) {
  static constexpr std::array<double, 7> small0{1.0,       3.5156229, 3.0899424, 1.2067492,
                                                0.2659732, 0.0360768, 0.0045813};
  static constexpr std::array<double, 7> small1{0.5,        0.87890594, 0.51498869, 0.15084934,
                                                0.02658733, 0.00301532, 0.00032411};
  static constexpr std::array<double, 9> large0{0.39894228,  0.01328592, 0.00225319,  -0.00157565, 0.00916281,
                                                -0.02057706, 0.02635537, -0.01647633, 0.00392377};
  static constexpr std::array<double, 9> large1{0.39894228, -0.03988024, -0.00362018, 0.00163801, -0.01031555,
                                                0.02282967, -0.02895312, 0.01787654,  -0.00420059};
  constexpr double joint = 3.75;
  const double t = x / joint;
  if (t < 1.0) {
    const double scale = std::exp(-x);
    return {scale * polynomial(small0, t * t), scale * x * polynomial(small1, t * t)};
  }
  const double scale = 1.0 / std::sqrt(x);
  const double per_t = joint / x;
  return {scale * polynomial(large0, per_t), scale * polynomial(large1, per_t)};
}

}  // namespace

double log_normal(double off, double variance) {
  return -0.5 * (off * off / variance + std::log(2.0 * std::numbers::pi * variance));
}

double log_held(const ZeroHold& hold, double v_mps, double sd_mps) {
  return std::log(std::max(held_probability(hold, v_mps, sd_mps), tiny));
}

double log_not_held(const ZeroHold& hold, double v_mps, double sd_mps) {
  if (hold.hold_mps <= 0.0) {
    return 0.0;
  }
  return std::log(std::max(1.0 - held_probability(hold, v_mps, sd_mps), least_shown));
}

double not_rounded_away(double z, const LaunchModel& model) {
  return std::max(z, 0.25 * model.resolution_mps + 1e-6);
}

LengthSays length_says(double z, double mean, double variance, int axes) {
  LengthSays out;
  const double z_per_variance = z / variance;
  const double k = z_per_variance * mean;
  const double gap = z - std::abs(mean);
  const double log_near = -0.5 * gap * gap / variance;
  if (axes == 1) {
    const double other = std::exp(-2.0 * std::abs(k));
    out.log_density = log_near + std::log1p(other) - 0.5 * std::log(2.0 * std::numbers::pi * variance);
    const double sign = std::tanh(k);
    out.mean = sign * z;
    out.variance = z * z * (1.0 - sign * sign);
    return out;
  }
  const double size = std::abs(k);
  double i0_scaled = 0.0;
  double resultant = 0.0;
  if (size > 30.0) {
    i0_scaled = (1.0 + 0.125 / size) / std::sqrt(2.0 * std::numbers::pi * size);
    resultant = 1.0 - 0.5 / size - 0.125 / (size * size);
  } else {
    const Bessel bessel = scaled_bessel(size);
    i0_scaled = bessel.i0;
    resultant = bessel.i1 / bessel.i0;
  }
  out.log_density = std::log(std::max(z_per_variance * i0_scaled, tiny)) + log_near;
  out.mean = std::copysign(resultant, k) * z;
  const double cos_square = size > 1e-6 ? 1.0 - resultant / size : 0.5;
  out.variance = z * z * std::max(cos_square - resultant * resultant, 0.0);
  return out;
}

}  // namespace bothways
