#include "bothways/core/estimate.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <stdexcept>
#include <utility>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("Student quantiles agree with the published table", "[core]") {
  // GUM table G.2 and the usual t tables, docs/sources.md [GUM].
  for (const auto& [nu, t] : {std::pair{1.0, 12.7062},
                              {2.0, 4.30265},
                              {3.0, 3.18245},
                              {4.0, 2.77645},
                              {5.0, 2.57058},
                              {6.0, 2.44691},
                              {7.0, 2.36462},
                              {8.0, 2.30600},
                              {9.0, 2.26216},
                              {10.0, 2.22814},
                              {15.0, 2.13145},
                              {20.0, 2.08596},
                              {30.0, 2.04227},
                              {60.0, 2.00030},
                              {120.0, 1.97993}}) {
    CAPTURE(nu);
    CHECK_THAT(student_t95(nu), WithinAbs(t, 1e-5));
  }
  CHECK_THAT(student_t95(std::numeric_limits<double>::infinity()), WithinAbs(1.959964, 1e-6));
}

TEST_CASE("an estimate cannot be made of what was not measured", "[core]") {
  CHECK_THROWS_AS(normal_estimate(std::nan(""), 0.1), std::invalid_argument);
  CHECK_THROWS_AS(normal_estimate(1.0, -0.1), std::invalid_argument);
  CHECK_THROWS_AS(student_estimate(1.0, 0.1, 0.0), std::invalid_argument);
  const Estimate e = student_estimate(5.0, 0.1, 2);
  CHECK_THAT(e.hi95 - e.value, WithinAbs(0.430265, 1e-6));
}
