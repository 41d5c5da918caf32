#include "support/simulate/ride.hpp"

#include "bothways/core/units.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

using namespace bothways;
using namespace bothways::sim;
using Catch::Matchers::WithinAbs;

namespace {

double time_to_mph(const Truth& truth, std::size_t start, double mph) {
  const TrueStart& run = truth.starts.at(start);
  return crossing_s(truth, run, Speed::from_mph(mph)).value() - run.movement_s;
}

}  // namespace

TEST_CASE("the simulated scooter takes the times of the reference model", "[simulate]") {
  // Model and figures: force min(650 N, 8948 W / v), 200 kg, quadrature and ODE agree to 1e-7 there.
  const Truth truth = ride(plain_scooter(), {}, {stand(5.0), full_start(Speed::from_mph(52).mps())});
  REQUIRE(truth.starts.size() == 1);
  CHECK(truth.starts[0].movement_s == 5.0);
  CHECK_THAT(time_to_mph(truth, 0, 30), WithinAbs(4.6919, 1e-4));
  CHECK_THAT(time_to_mph(truth, 0, 40), WithinAbs(6.7477, 1e-4));
  CHECK_THAT(time_to_mph(truth, 0, 50), WithinAbs(10.1536, 1e-4));
}
