#include "bothways/core/estimate.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <stdexcept>

using namespace bothways;

TEST_CASE("an estimate cannot be made of what was not measured", "[core]") {
  CHECK_THROWS_AS(normal_estimate(std::nan(""), 0.1), std::invalid_argument);
  CHECK_THROWS_AS(normal_estimate(1.0, -0.1), std::invalid_argument);
}
