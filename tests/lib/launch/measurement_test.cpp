#include "bothways/launch/measurement.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways;
using Catch::Matchers::WithinRel;

TEST_CASE("the posterior of a length of two noises is Rice's law and the von Mises resultant", "[launch]") {
  constexpr double variance = 0.04;
  for (const double z : {0.01, 0.2, 0.5, 0.9}) {
    for (const double mean : {0.001, 0.05, 0.16, 0.3, 0.7, 1.2}) {
      const double k = z * mean / variance;
      const LengthPosterior length = length_posterior(z, {mean, variance}, 2);
      const double i0 = std::cyl_bessel_i(0.0, k);
      const double resultant = std::cyl_bessel_i(1.0, k) / i0;
      INFO("z " << z << ", mean " << mean);
      CHECK_THAT(std::exp(length.log_density),
                 WithinRel(z / variance * std::exp(-(z * z + mean * mean) / (2.0 * variance)) * i0, 1e-5));
      CHECK_THAT(length.part.mean, WithinRel(resultant * z, 1e-5));
      CHECK_THAT(length.part.variance,
                 WithinRel(z * z * (1.0 - resultant / k - resultant * resultant), 2e-3));
    }
  }
}
