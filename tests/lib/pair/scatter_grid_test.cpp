#include "bothways/pair/scatter_grid.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("a scatter's nodes carry the mass of a half-t with three degrees of freedom about them", "[pair]") {
  const boost::math::students_t student(3.0);
  const Axis axis = whole_axis(0.04, 0.1, 20);
  const double step = (axis.hi - axis.lo) / 19.0;
  const std::vector<Weighed> grid = grid_of(axis);
  REQUIRE(grid.size() == 20);
  double sum = 0.0;
  for (std::size_t i = 0; i < grid.size(); ++i) {
    CAPTURE(i);
    const double log_sd = axis.lo + static_cast<double>(i) * step;
    CHECK_THAT(grid[i].sd, WithinRel(std::exp(log_sd), 1e-12));
    sum += grid[i].weight;
    if (i > 0 && i + 1 < grid.size()) {
      const auto below = [&](double at) {
        return 2.0 * boost::math::cdf(student, std::exp(at) / 0.04) - 1.0;
      };
      CHECK_THAT(grid[i].weight, WithinAbs(below(log_sd + step / 2.0) - below(log_sd - step / 2.0), 1e-13));
    }
  }
  CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
}

TEST_CASE("a scatter that cannot be has one node", "[pair]") {
  const std::vector<Weighed> grid = grid_of(whole_axis(0.0, 0.1, 7));
  REQUIRE(grid.size() == 1);
  CHECK(grid.front().sd == 0.0);
  CHECK(grid.front().weight == 1.0);
}

TEST_CASE("a closer look keeps a node on either side of what weighs", "[pair]") {
  const Axis axis = whole_axis(0.04, 0.1, 5);
  const double step = (axis.hi - axis.lo) / 4.0;
  const Axis part = zoomed(axis, {0.0, 0.0, 0.6, 0.4, 0.0});
  CHECK_THAT(part.lo, WithinAbs(axis.lo + step, 1e-12));
  CHECK_THAT(part.hi, WithinAbs(axis.hi, 1e-12));
  CHECK_FALSE(part.open_below);
  CHECK_FALSE(part.open_above);
}
