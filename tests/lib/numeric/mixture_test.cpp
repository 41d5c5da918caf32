#include "bothways/numeric/mixture.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

TEST_CASE("a single normal has its textbook interval", "[numeric]") {
  const MixtureSummary s = summarise({{1.0, 5.0, 0.04}});
  CHECK_THAT(s.mean, WithinAbs(5.0, 1e-15));
  CHECK_THAT(s.sd, WithinAbs(0.2, 1e-15));
  CHECK_THAT(s.lo95, WithinAbs(5.0 - 0.2 * 1.959963984540054, 1e-7));
  CHECK_THAT(s.hi95, WithinAbs(5.0 + 0.2 * 1.959963984540054, 1e-7));
}

TEST_CASE("of two far normals each gives its own outer quantile", "[numeric]") {
  // 2.5 % of all is 5 % of a half: 1.6449 sd outwards from the outer mean.
  const MixtureSummary s = summarise({{0.5, -10.0, 1.0}, {0.5, 10.0, 4.0}});
  CHECK_THAT(s.mean, WithinAbs(0.0, 1e-14));
  CHECK_THAT(s.sd, WithinAbs(std::sqrt(100.0 + 2.5), 1e-12));
  CHECK_THAT(s.lo95, WithinAbs(-10.0 - 1.6448536269514722, 1e-6));
  CHECK_THAT(s.hi95, WithinAbs(10.0 + 2.0 * 1.6448536269514722, 1e-6));
}

TEST_CASE("a part of less than 2.5 % far out does not move the interval to it", "[numeric]") {
  const MixtureSummary s = summarise({{0.98, 0.0, 1.0}, {0.02, 100.0, 1.0}});
  CHECK(s.hi95 < 3.0);  // 0.995 / 0.98 of the near one: 2.6 sd
  CHECK(s.hi95 > 2.5);
  CHECK(s.mean == 2.0);
}

TEST_CASE("parts without any variance give a point, and no parts give zeros", "[numeric]") {
  const MixtureSummary point = summarise({{1.0, 3.0, 0.0}});
  CHECK_THAT(point.lo95, WithinAbs(3.0, 1e-8));
  CHECK_THAT(point.hi95, WithinAbs(3.0, 1e-8));
  CHECK(point.lo95 <= point.hi95);
  const MixtureSummary none = summarise({});
  CHECK((none.mean == 0.0 && none.sd == 0.0 && none.lo95 == 0.0 && none.hi95 == 0.0));
}

TEST_CASE("the cheap figures of a mixture are those of the full ones", "[numeric]") {
  const std::vector<NormalPart> parts{{0.2, 1.0, 0.3}, {0.5, 1.5, 0.1}, {0.3, 0.2, 0.7}};
  CHECK(mean_and_sd(parts).mean == summarise(parts).mean);
  CHECK(mean_and_sd(parts).sd == summarise(parts).sd);
}

TEST_CASE("an interval holds its own mean, however far off a part of little weight is", "[numeric]") {
  const MixtureSummary s = summarise({{0.985, 2.7, 0.0004}, {0.015, 30.0, 1.0}});
  CHECK(s.mean <= s.hi95);
  CHECK(s.mean >= s.lo95);
  CHECK(s.hi95 == s.mean);
}
