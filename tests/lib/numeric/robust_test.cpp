#include "bothways/numeric/robust.hpp"

#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <vector>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("quantiles lie on straight lines between the ordered values", "[numeric]") {
  const std::vector<double> values{9.0, 1.0, 5.0, 3.0};
  CHECK(quantile(values, 0.0) == 1.0);
  CHECK(quantile(values, 1.0) == 9.0);
  CHECK_THAT(quantile(values, 0.5), WithinAbs(4.0, 1e-15));
  CHECK_THAT(quantile(values, 0.9), WithinAbs(7.8, 1e-14));
  CHECK(quantile({2.0}, 0.7) == 2.0);
  CHECK(quantile({}, 0.5) == 0.0);
}

TEST_CASE("the robust width of normal values is their sd, and wild ones do not move it", "[numeric]") {
  bothways::sim::Random random(3);
  std::vector<double> values;
  for (int i = 0; i < 20000; ++i) {
    values.push_back(0.07 * random.normal());
  }
  // The sd of a robust width is 1.17 / sqrt(2 n) of it: 0.8 % here; three of them.
  CHECK_THAT(robust_sd(values), WithinRel(0.07, 0.02));
  for (int i = 0; i < 400; ++i) {  // 2 % of the values
    values.push_back(1e6);
  }
  CHECK_THAT(robust_sd(values), WithinRel(0.07, 0.05));
  CHECK(robust_sd({}) == 0.0);
}
