#include "bothways/core/estimate.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <stdexcept>

using namespace bothways;

TEST_CASE("95 % of a normal law lie within the interval of an estimate", "[core]") {
  const Estimate e = normal_estimate(5.0, 2.0);
  const double below = 0.5 * std::erfc((e.value - e.lo95) / e.sd / std::sqrt(2.0));
  CHECK(std::abs(below - 0.025) < 1e-12);
  CHECK(std::abs((e.hi95 - e.value) - (e.value - e.lo95)) < 1e-12);
}

TEST_CASE("an estimate cannot be made of what was not measured", "[core]") {
  CHECK_THROWS_AS(normal_estimate(std::nan(""), 0.1), std::invalid_argument);
  CHECK_THROWS_AS(normal_estimate(1.0, -0.1), std::invalid_argument);
}
