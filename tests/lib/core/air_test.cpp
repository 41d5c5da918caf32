#include "bothways/core/air.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <limits>
#include <stdexcept>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double pa_per_mmhg = 101'325.0 / 760.0;

/// Simplified formula of OIML R 111, from memory; claims 2e-4 for 900..1100 hPa, 10..30 C, below 80 %.
double simplified_kg_m3(const Air& air) {
  return (0.34848 * air.pressure_pa / 100.0 -
          0.009 * air.humidity * 100.0 * std::exp(0.061 * air.temperature_degc)) /
         (273.15 + air.temperature_degc);
}

}  // namespace

TEST_CASE("air density agrees with published values", "[core]") {
  struct Row {
    Air air;
    double density;
    bool valid;  // inside the box of the formula
  };
  // 1.19569 and 1.11497 are published [CIPM07]; the others are the same formula worked out independently.
  const auto row = GENERATE(
      Row{{20.0, 101'325.0, 0.5}, 1.19931, true}, Row{{10.0, 730 * pa_per_mmhg, 0.4}, 1.19569, false},
      Row{{40.0, 760 * pa_per_mmhg, 0.4}, 1.11497, false}, Row{{25.0, 760 * pa_per_mmhg, 0.4}, 1.17871, true},
      Row{{15.0, 101'325.0, 0.0}, 1.22552, true}, Row{{30.0, 95'000.0, 0.4}, 1.08463, false},
      Row{{35.0, 101'325.0, 0.8}, 1.12660, false});
  CHECK_THAT(air_density_kg_m3(row.air), WithinRel(row.density, row.valid ? 1e-4 : 1e-3));
}

TEST_CASE("air density agrees with the simplified formula where that holds", "[core]") {
  for (double t = 10.0; t <= 30.0; t += 5.0) {
    for (double p = 90'000.0; p <= 110'000.0; p += 5000.0) {
      for (const double h : {0.0, 0.3, 0.79}) {
        const Air air{t, p, h};
        CHECK_THAT(air_density_kg_m3(air), WithinRel(simplified_kg_m3(air), 3e-4));  // it claims 2e-4
      }
    }
  }
}

TEST_CASE("ten degrees make air 3.65 % thinner", "[core]") {
  CHECK_THAT(air_density_kg_m3({30.0, 101'325.0, 0.5}) / air_density_kg_m3({20.0, 101'325.0, 0.5}) - 1.0,
             WithinAbs(-0.0365, 5e-5 + 4e-4));  // printed to 0.01 %; at the same relative humidity 3.9 %
}

TEST_CASE("the standard atmosphere has its published pressures", "[core]") {
  // [ISA76] in the geopotential heights of our own calculation from its formula
  CHECK_THAT(standard_pressure_pa(0.0), WithinAbs(101'325.0, 1e-9));
  CHECK_THAT(standard_pressure_pa(300.0), WithinRel(97'772.57, 1e-6));
  CHECK_THAT(standard_pressure_pa(1000.0), WithinRel(89'874.56, 1e-6));
  CHECK_THAT(standard_pressure_pa(2000.0), WithinRel(79'495.20, 1e-6));
  // and the published table at 2 km of geometric height
  CHECK_THAT(standard_pressure_pa(2000.0 * 6356.766 / 6358.766), WithinRel(79'501.0, 5e-5));
}

TEST_CASE("the engine correction is 1 in its reference air and 8.2 % on a hot day up a hill", "[core]") {
  // 990 hPa dry at 25 degrees; 30 degrees, 950 hPa, 40 %: factor 1.08229
  CHECK_THAT(engine_power_share({25.0, 99'000.0, 0.0}), WithinAbs(1.0, 1e-12));
  CHECK_THAT(1.0 / engine_power_share({30.0, 95'000.0, 0.4}),
             WithinAbs(1.08229, 1.5e-4));  // saturation by another fit
  CHECK_THAT(dry_pressure_pa({30.0, 95'000.0, 0.4}),
             WithinAbs(93'301.3, 10.0));  // by another fit of saturation
}

TEST_CASE("air that cannot be is refused", "[core]") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const Air& air : {Air{100.0, 101'325.0, 0.5}, Air{20.0, 1013.0, 0.5}, Air{20.0, 101'325.0, 1.1},
                         Air{nan, 101'325.0, 0.5}, Air{20.0, nan, 0.5}, Air{20.0, 101'325.0, nan}}) {
    CHECK_THROWS_AS(air_density_kg_m3(air), std::invalid_argument);
    CHECK_THROWS_AS(engine_power_share(air), std::invalid_argument);
  }
  CHECK_THROWS_AS(standard_pressure_pa(nan), std::invalid_argument);
}
