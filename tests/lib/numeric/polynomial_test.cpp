#include "bothways/numeric/polynomial.hpp"

#include <catch2/catch.hpp>

#include <vector>

using bothways::numeric::Polynomial;
using Catch::Matchers::WithinAbs;

TEST_CASE("points on a cubic give it back, also beyond them", "[numeric]") {
  const auto cubic = [](double t) { return 2.0 - 3.0 * t + 0.5 * t * t - 0.25 * t * t * t; };
  const std::vector<double> t{100.0, 100.3, 100.5, 101.0, 101.1, 101.9};
  std::vector<double> y;
  for (const double at : t) {
    y.push_back(cubic(at - 100.0));
  }
  const Polynomial through(t, y, 3);
  for (const double at : {99.5, 100.0, 100.7, 102.5}) {
    CHECK_THAT(through.at(at), WithinAbs(cubic(at - 100.0), 1e-9));
  }
}

TEST_CASE("a line of least squares is that of the normal equations", "[numeric]") {
  // Slope sum(t y) / sum(t^2) about the means: 3 / 5, and mean 2.
  const std::vector<double> t{0.0, 1.0, 2.0, 3.0};
  const std::vector<double> y{1.0, 2.0, 2.0, 3.0};
  const Polynomial line(t, y, 1);
  CHECK_THAT(line.at(1.5), WithinAbs(2.0, 1e-12));
  CHECK_THAT(line.at(2.5) - line.at(1.5), WithinAbs(0.6, 1e-12));
}

TEST_CASE("too few points give a polynomial of a lower degree", "[numeric]") {
  CHECK_THAT(Polynomial(std::vector{4.0}, std::vector{7.0}, 3).at(9.0), WithinAbs(7.0, 1e-12));
  CHECK_THAT(Polynomial(std::vector{0.0, 1.0}, std::vector{1.0, 3.0}, 3).at(2.0), WithinAbs(5.0, 1e-9));
}
