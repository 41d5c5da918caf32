#include "support/simulate/road.hpp"

#include "support/simulate/ride.hpp"

#include <catch2/catch.hpp>

using namespace bothways::sim;
using Catch::Matchers::WithinAbs;

TEST_CASE("height is the integral of a slope at even steps", "[simulate]") {
  const Road road{.slope = 0.01,
                  .slopes_step_m = 50.0,
                  .slopes_from_m = -100.0,
                  .slopes = {0.0, 0.02, -0.01, 0.03, 0.01}};
  CHECK_THAT(slope_at(road, -75.0), WithinAbs(0.02, 1e-12));
  double height_m = road.height_m;
  for (int i = 0; i < 4000; ++i) {
    height_m += 0.1 * slope_at(road, 0.1 * i + 0.05);
  }
  CHECK_THAT(height_at(road, 400.0), WithinAbs(height_m, 1e-9));
  CHECK_THAT(height_at(road, 0.0), WithinAbs(road.height_m, 1e-12));
}

TEST_CASE("wind across the road adds half its square to that along it", "[simulate]") {
  const Vehicle scooter;
  const double still_N = resistance_N(scooter, 20.0, 0.0, 0.0);
  const double k = 0.5 * scooter.air_kg_m3 * scooter.drag_area_m2;
  // 20 sqrt(400 + 9) = 400 + 4.5 - 0.025
  CHECK_THAT(resistance_N(scooter, 20.0, 0.0, 0.0, 3.0) - still_N, WithinAbs(k * 4.475, k * 0.001));
}

TEST_CASE("a curve of drive scales the force on straight lines", "[simulate]") {
  Vehicle scooter;
  scooter.drive = {{2.0, 0.9}, {6.0, 1.1}};
  CHECK_THAT(full_force_N(scooter, 0.0), WithinAbs(0.9 * 650.0, 1e-9));
  CHECK_THAT(full_force_N(scooter, 4.0), WithinAbs(650.0, 1e-9));
  CHECK_THAT(full_force_N(scooter, 8.0), WithinAbs(1.1 * 650.0, 1e-9));
}

TEST_CASE("an eased brake ends softer and takes longer", "[simulate]") {
  const auto stop_s = [](double ease_mps) {
    Phase brake = slow_to(0.0, 3.0);
    brake.ease_mps = ease_mps;
    const Truth truth = ride(plain_scooter(), {}, {full_start(10.0), brake});
    return truth.duration_s() - truth.starts.at(0).lift_s;
  };
  // v' = -b (1/4 + 3/4 v / e) below e takes 4/3 e / b ln 4 instead of e / b.
  CHECK_THAT(stop_s(2.0) - stop_s(0.0), WithinAbs(2.0 / 3.0 * (4.0 / 3.0 * 1.386294 - 1.0), 0.02));
}
