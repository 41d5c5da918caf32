#include "bothways/run/homogeneity.hpp"

#include <catch2/catch.hpp>

#include <limits>

using namespace bothways;

TEST_CASE("runs both ways on a slope are alike, however much the ways differ", "[run]") {
  CHECK(homogeneous({{2.6, 70.0}, {3.0, 250.0}, {2.65, 72.0}, {3.05, 249.0}, {2.58, 71.0}}, 0.0));
  CHECK(homogeneous({{2.6, 359.0}, {3.0, 180.0}, {2.65, 1.0}, {3.05, 181.0}}, 0.0));
}

TEST_CASE("starts in traffic, spread over the quarter that counts, are not alike", "[run]") {
  CHECK_FALSE(
      homogeneous({{1.21, 73.0}, {1.33, 73.0}, {1.32, 73.0}, {1.26, 72.0}, {1.14, 70.0}, {1.45, 71.0}}, 0.0));
}

TEST_CASE("what the receiver's noise makes of a pull is no difference", "[run]") {
  const std::vector<Pull> noisy{{2.7, 70.0}, {3.1, 71.0}, {2.8, 70.0}, {3.0, 72.0}};
  CHECK_FALSE(homogeneous(noisy, 0.0));
  CHECK(homogeneous(noisy, 0.06));
}

TEST_CASE("one start, and one each way, are alike within what slopes make", "[run]") {
  CHECK(homogeneous({{2.0, 70.0}}, 0.0));
  CHECK(homogeneous({{2.6, 70.0}, {3.0, 250.0}}, 0.0));
  CHECK_FALSE(homogeneous({{2.0, 70.0}, {3.0, 250.0}}, 0.0));
}

TEST_CASE("starts without a direction are compared with one another", "[run]") {
  const double unknown = std::numeric_limits<double>::quiet_NaN();
  CHECK(homogeneous({{2.8, unknown}, {2.9, unknown}, {2.85, unknown}}, 0.0));
  CHECK_FALSE(homogeneous({{2.8, unknown}, {2.2, unknown}, {2.5, unknown}}, 0.0));
}
