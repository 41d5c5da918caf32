#include "bothways/launch/measurement.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

template <typename F>
double integral(const F& f, double from, double to) {
  return boost::math::quadrature::gauss_kronrod<double, 61>::integrate(f, from, to, 6, 1e-9);
}

/// Density of a part u along the road: a signal that is normal and >= 0, and noise; integrated over the
/// signal.
double density_of_part(double u, const numeric::Normal& signal, double noise_variance) {
  const double sd = std::sqrt(signal.variance);
  const double to = std::max(0.0, signal.mean) + 9.0 * sd;
  const auto prior = [&](double v) { return std::exp(numeric::log_density(signal, v)); };
  const auto joint = [&](double v) {
    return prior(v) * std::exp(numeric::log_density({v, noise_variance}, u));
  };
  return integral(joint, 0.0, to) / integral(prior, 0.0, to);
}

/// Moments of the part along the road by quadrature over the direction of the vector.
LengthPosterior by_definition(double z, const numeric::Normal& signal, double noise_variance) {
  constexpr int steps = 400;
  double sum = 0.0;
  double first = 0.0;
  double second = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double w = 2.0 * std::numbers::pi * i / steps;
    const double u = z * std::cos(w);
    const double p = z * density_of_part(u, signal, noise_variance) *
                     std::exp(numeric::log_density({0.0, noise_variance}, z * std::sin(w)));
    sum += p;
    first += p * u;
    second += p * u * u;
  }
  const double mean = first / sum;
  return {std::log(sum * 2.0 * std::numbers::pi / steps), {mean, second / sum - mean * mean}};
}

}  // namespace

TEST_CASE("the posterior of a length beside a known signal is Rice's law and the von Mises resultant",
          "[launch]") {
  constexpr double variance = 0.04;
  for (const double z : {0.01, 0.2, 0.5, 0.9}) {
    for (const double mean : {0.001, 0.05, 0.16, 0.3, 0.7, 1.2}) {
      const double k = z * mean / variance;
      const LengthPosterior length = length_posterior(z, {{mean, variance}, {mean, 0.0}, variance}, 2);
      const double i0 = std::cyl_bessel_i(0.0, k);
      const double resultant = std::cyl_bessel_i(1.0, k) / i0;
      INFO("z " << z << ", mean " << mean);
      CHECK_THAT(std::exp(length.log_density),
                 WithinRel(z / variance * std::exp(-(z * z + mean * mean) / (2.0 * variance)) * i0, 1e-5));
      CHECK_THAT(length.part.mean, WithinRel(resultant * z, 1e-4));
      CHECK_THAT(length.part.variance,
                 WithinRel(z * z * (1.0 - resultant / k - resultant * resultant), 2e-3));
    }
  }
}

TEST_CASE("the posterior of a length agrees with quadrature of its definition", "[launch]") {
  for (const double noise_sd : {0.05, 0.3}) {
    for (const double signal_sd : {0.05, 0.2, 1.0}) {
      for (const double mean : {-0.05, 0.0, 0.1, 0.4}) {
        for (const double z : {0.005, 0.05, 0.1, 0.3, 0.6}) {
          const double r = noise_sd * noise_sd;
          const numeric::Normal signal{mean, signal_sd * signal_sd};
          const LengthPosterior exact = by_definition(z, signal, r);
          const LengthPosterior length = length_posterior(z, {{mean, signal.variance + r}, signal, r}, 2);
          CAPTURE(noise_sd, signal_sd, mean, z);
          if (exact.log_density < -10.0) {
            continue;  // of no weight beside any other
          }
          const bool far = z > 5.0 * noise_sd;  // there the law is a series in noise / length
          CHECK_THAT(length.log_density, WithinAbs(exact.log_density, far ? 0.15 : 1e-4));
          CHECK_THAT(length.part.mean, WithinAbs(exact.part.mean, (far ? 0.2 : 1e-3) * noise_sd));
          CHECK_THAT(std::sqrt(length.part.variance),
                     WithinAbs(std::sqrt(std::max(exact.part.variance, 0.0)), (far ? 0.5 : 1e-2) * noise_sd));
        }
      }
    }
  }
}

TEST_CASE("one axis folds: the odds of the two signs are those of the two densities", "[launch]") {
  const numeric::Normal signal{0.1, 0.03};
  const LengthPosterior length = length_posterior(0.3, {{0.1, 0.04}, signal, 1.0}, 1);
  const double ahead = density_of_part(0.3, signal, 0.01);
  const double back = density_of_part(-0.3, signal, 0.01);
  CHECK_THAT(length.log_density, WithinAbs(std::log(ahead + back), 1e-6));
  CHECK_THAT(length.part.mean, WithinAbs(0.3 * (ahead - back) / (ahead + back), 1e-6));
}

TEST_CASE("a length written in steps has the probability of all lengths that round to it", "[launch]") {
  for (const int axes : {1, 2}) {
    for (const double step : {0.1, 0.28}) {
      for (const double noise_sd : {0.06, 0.1}) {
        for (const double mean : {0.0, 0.1, 0.3}) {
          CAPTURE(axes, step, noise_sd, mean);
          const double r = noise_sd * noise_sd;
          const ExpectedLength expected{{mean, r + 0.0025}, {mean, 0.0025}, r};
          double sum = 0.0;
          for (int k = 0; k < 20; ++k) {
            const double z = k * step;
            const double from = std::max(0.0, z - 0.5 * step);
            const LengthPosterior whole = rounded_length_posterior(z, step, expected, axes);
            const auto p = [&](double at) {
              return std::exp(length_posterior(at, expected, axes).log_density);
            };
            const auto mean_of = [&](double at) {
              return p(at) * length_posterior(at, expected, axes).part.mean;
            };
            const double share = integral(p, from, z + 0.5 * step);
            sum += share;
            if (share < 0.05) {
              continue;  // far out the law of a length is a series in noise / length
            }
            CHECK_THAT(std::exp(whole.log_density) * step, WithinRel(share, 0.01));
            CHECK_THAT(whole.part.mean,
                       WithinAbs(integral(mean_of, from, z + 0.5 * step) / share, 0.02 * noise_sd));
            CHECK(whole.part.variance > 0.0);
          }
          CHECK_THAT(sum, WithinAbs(1.0, 0.02));
        }
      }
    }
  }
}

TEST_CASE("a speed at the edge of a dead band is written as 0 half of the time", "[launch]") {
  const DeadBand band{0.8, 0.05, 0.0, 2.0};
  CHECK_THAT(log_censored(band, {0.8, 0.01}), WithinAbs(std::log(0.5), 1e-12));
  CHECK_THAT(log_not_censored(band, {0.8, 0.01}), WithinAbs(std::log(0.5), 1e-12));
  // Phi(2): two sd above the edge, of the band's width and the speed's own together.
  const double sd = std::hypot(0.05, 0.1);
  CHECK_THAT(std::exp(log_censored(band, {0.8 - 2.0 * sd, 0.01})), WithinAbs(0.9772498680518208, 1e-12));
  CHECK(log_not_censored({}, {0.8, 0.01}) == 0.0);
}

TEST_CASE("of a phone's readings a share is held far up", "[launch]") {
  const DeadBand band{0.5, 0.02, 0.15, 2.0};
  CHECK_THAT(std::exp(log_censored(band, {1.2, 1e-6})), WithinAbs(0.15, 0.001));
}
