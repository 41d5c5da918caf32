#include "bothways/numeric/crossing.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

TEST_CASE("a cubic goes through its ends with its slopes", "[numeric]") {
  const Cubic c{2.0, 2.5, 1.0, 3.0, -4.0, 6.0};
  CHECK_THAT(c.value(2.0), WithinAbs(1.0, 1e-14));
  CHECK_THAT(c.value(2.5), WithinAbs(3.0, 1e-14));
  CHECK_THAT(c.slope(2.0), WithinAbs(-4.0, 1e-13));
  CHECK_THAT(c.slope(2.5), WithinAbs(6.0, 1e-13));
  CHECK_THAT((c.value(2.3 + 1e-6) - c.value(2.3 - 1e-6)) / 2e-6, WithinAbs(c.slope(2.3), 1e-6));
}

TEST_CASE("a parabola's crossing is found to a billionth of the span", "[numeric]") {
  // s = t^2 from t = 1 to 3 reaches 5 at sqrt 5.
  const Cubic c{1.0, 3.0, 1.0, 9.0, 2.0, 6.0};
  const auto t = rising_crossing(c, 5.0);
  REQUIRE(t);
  CHECK_THAT(*t, WithinAbs(std::sqrt(5.0), 2e-9));
}

TEST_CASE("a level at the upper end counts, one at the lower end does not", "[numeric]") {
  const Cubic c{0.0, 1.0, 0.0, 1.0, 1.0, 1.0};
  CHECK_FALSE(rising_crossing(c, 0.0));
  REQUIRE(rising_crossing(c, 1.0));
  CHECK_THAT(*rising_crossing(c, 1.0), WithinAbs(1.0, 1e-8));
  CHECK_FALSE(rising_crossing(c, 1.1));
  CHECK_FALSE(rising_crossing(Cubic{0.0, 1.0, 1.0, 0.0, -1.0, -1.0}, 0.5));  // falling
}

TEST_CASE("of a cubic that crosses a level three times the crossing found rises through it", "[numeric]") {
  const Cubic c{0.0, 1.0, 0.0, 1.0, 12.0, 12.0};
  const auto t = rising_crossing(c, 0.5);
  REQUIRE(t);
  CHECK_THAT(c.value(*t), WithinAbs(0.5, 1e-7));
}
