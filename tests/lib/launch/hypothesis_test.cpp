#include "bothways/launch/hypothesis.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("a shape that takes longer than half a second is less likely by the square of that", "[launch]") {
  const auto all = full_throttle_hypotheses({{}}, 4.0);
  double longest_s = 0.0;
  for (const LaunchHypothesis& h : all) {
    const double length_s = h.shape.length_s();
    longest_s = std::max(longest_s, length_s);
    CAPTURE(length_s);
    CHECK_THAT(h.prior, WithinAbs(length_s <= 0.5 ? 1.0 : 0.25 / (length_s * length_s), 1e-12));
  }
  CHECK_THAT(longest_s, WithinAbs(1.65, 1e-9));  // a creep of 1.6 s, and the snatch
}

TEST_CASE(
    "each candidate of smoothing has the same hypotheses with its weight, three of them without a shape",
    "[launch]") {
  const auto one = full_throttle_hypotheses({{}}, 4.0);
  CHECK(std::count_if(one.begin(), one.end(),
                      [](const LaunchHypothesis& h) { return h.early_jerk_factor != 2.0; }) == 3);
  const auto two = full_throttle_hypotheses({{{}, 0.25}, {{0.2}, 0.75}}, 4.0);
  REQUIRE(two.size() == 2 * one.size());
  for (std::size_t i = 0; i < one.size(); ++i) {
    CHECK_THAT(two[i].prior, WithinAbs(0.25 * one[i].prior, 1e-12));
    CHECK_THAT(two[one.size() + i].prior, WithinAbs(0.75 * one[i].prior, 1e-12));
    CHECK(two[one.size() + i].filter.lag_s == 0.2);
  }
}

TEST_CASE("the time to the first foot is that of the shape", "[launch]") {
  for (const LaunchHypothesis& h : full_throttle_hypotheses({{}}, 4.0)) {
    if (h.shape.a_mps2.size() == 1 && h.shape.a_mps2.front() == 4.0) {
      CHECK_THAT(h.foot_s, WithinAbs(std::sqrt(2.0 * 0.3048 / 4.0), 0.011));  // found in steps of 0.01 s
    }
    if (std::abs(h.shape.length_s() - 0.5) < 1e-9 && h.shape.a_mps2.front() == 0.0) {
      CHECK_THAT(h.foot_s, WithinAbs(std::cbrt(6.0 * 0.3048 / 8.0), 0.04));  // a rise of 8 m/s^3 would do it
    }
  }
}
