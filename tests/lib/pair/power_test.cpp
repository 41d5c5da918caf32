#include "bothways/pair/power.hpp"

#include "bothways/core/units.hpp"
#include "bothways/pair/match.hpp"
#include "support/simulate/receiver.hpp"
#include "support/simulate/ride.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <stdexcept>

using namespace bothways;
using Catch::Matchers::WithinRel;

namespace {

/// Three runs each way of the scooter, 8948 W at the wheel above 13.8 m/s.
std::vector<Ride> scooter_rides(const sim::Road& road, std::uint64_t seed) {
  const double top_mps = Speed::from_mph(53.0).mps();
  const double stretch_m = sim::run_length_m(sim::scooter(), top_mps);
  sim::Script script;
  for (int i = 0; i < 6; ++i) {
    sim::append(script, sim::one_way(top_mps, stretch_m, 9.0 + i));
  }
  const sim::Truth truth = sim::ride(sim::scooter(), road, script, seed);
  std::vector<Ride> rides{analyse(sim::receive(truth, {}, seed + 1))};
  int id = 0;
  for (Run& run : rides[0].runs.accepted) {
    run.id = ++id;
  }
  return rides;
}

RoadLoad known() {
  RoadLoad load;
  load.rotating = {0.05, 0.05};
  load.drag_area_m2 = {0.55, 0.55};
  load.rolling = {0.015, 0.015};
  load.air_kg_m3 = {1.2, 0.0, 1.2, 1.2};
  load.wind_mps = {0.0, 0.0};
  return load;
}

const std::vector<double> upper{Speed::from_mph(35.0).mps(), Speed::from_mph(40.0).mps(),
                                Speed::from_mph(45.0).mps()};

}  // namespace

TEST_CASE("power at the road is that of the simulated scooter", "[pair]") {
  const double wheel_w = sim::scooter().power_W;
  for (const double slope : {0.0, 0.01, -0.02}) {
    for (const double wind_mps : {0.0, 2.0}) {
      const auto rides = scooter_rides({.slope = slope, .wind_mps = wind_mps}, 301);
      RoadLoad load = known();
      load.wind_mps = {wind_mps, wind_mps};
      const RoadPower power = road_power(rides, pair_runs(rides), load, upper);
      REQUIRE(power.rows.size() == upper.size());
      for (const PowerRow& row : power.rows) {
        CAPTURE(slope, wind_mps, row.v_mps, row.power_w.value, row.power_w.sd);
        CHECK(row.pairs == 3);
        // Eighteen looks at 3 sd: one false alarm in twenty sets of seeds.
        CHECK(std::abs(row.power_w.value - wheel_w) < 3.0 * row.power_w.sd);
        CHECK(row.power_w.lo95 < wheel_w);
        CHECK(row.power_w.hi95 > wheel_w);
        CHECK(row.power_w.sd < 0.03 * wheel_w);
      }
    }
  }
}

TEST_CASE("below the corner of its pull, power at the road is force times speed", "[pair]") {
  const auto rides = scooter_rides({}, 311);
  const double v_mps = Speed::from_mph(20.0).mps();
  const RoadPower power = road_power(rides, pair_runs(rides), known(), {v_mps});
  REQUIRE(power.rows.size() == 1);
  CHECK(std::abs(power.rows[0].power_w.value - 650.0 * v_mps) < 3.0 * power.rows[0].power_w.sd);
}

TEST_CASE("the interval of the power holds all of that of its acceleration", "[pair]") {
  const auto rides = scooter_rides({.slope = 0.01}, 341);
  const Pairs all = pair_runs(rides);
  REQUIRE(all.made.size() == 3);
  const RoadLoad load = known();
  for (std::size_t count = 1; count <= all.made.size(); ++count) {
    Pairs some;
    some.made.assign(all.made.begin(), all.made.begin() + static_cast<std::ptrdiff_t>(count));
    for (const PowerRow& row : road_power(rides, some, load, upper).rows) {
      const double by_a = row.v_mps * load.mass_kg.middle() * (1.0 + load.rotating.middle());
      CAPTURE(count, row.v_mps, row.power_w.value, row.a_mps2.value);
      CHECK(row.power_w.hi95 - row.power_w.value >= 0.999999 * by_a * (row.a_mps2.hi95 - row.a_mps2.value));
      CHECK(row.power_w.value - row.power_w.lo95 >= 0.999999 * by_a * (row.a_mps2.value - row.a_mps2.lo95));
    }
  }
}

TEST_CASE("what is not known widens the interval and keeps the truth in it", "[pair]") {
  const auto rides = scooter_rides({.slope = 0.01}, 321);
  const auto pairs = pair_runs(rides);
  const RoadPower sharp = road_power(rides, pairs, known(), upper);
  const RoadPower wide = road_power(rides, pairs, {}, upper);
  for (std::size_t i = 0; i < upper.size(); ++i) {
    CHECK(wide.rows[i].power_w.sd > 1.5 * sharp.rows[i].power_w.sd);
    CHECK(wide.rows[i].power_w.lo95 < sim::scooter().power_W);
    CHECK(wide.rows[i].power_w.hi95 > sim::scooter().power_W);
    CHECK(wide.rows[i].a_mps2.value == sharp.rows[i].a_mps2.value);
  }
}

TEST_CASE("a mass known to 40 kg has its part in the power's interval", "[pair]") {
  const auto rides = scooter_rides({}, 331);
  const auto pairs = pair_runs(rides);
  RoadLoad load = known();
  const double mass_kg = load.mass_kg.middle();
  load.mass_kg = {mass_kg, mass_kg};
  const RoadPower sharp = road_power(rides, pairs, load, upper);
  load.mass_kg = {mass_kg - 20.0, mass_kg + 20.0};
  const RoadPower wide = road_power(rides, pairs, load, upper);
  for (std::size_t i = 0; i < upper.size(); ++i) {
    const double per_kg = upper[i] * (1.05 * wide.rows[i].a_mps2.value + 0.015 * 9.80665);
    const double part_w = per_kg * 40.0 / std::sqrt(12.0);  // equally likely between its ends
    const double sd_w = wide.rows[i].power_w.sd;
    CHECK_THAT(sd_w * sd_w - std::pow(sharp.rows[i].power_w.sd, 2.0), WithinRel(part_w * part_w, 1e-6));
  }
}

TEST_CASE("a speed that no pair reaches has no row", "[pair]") {
  const auto rides = scooter_rides({}, 331);
  CHECK(road_power(rides, pair_runs(rides), known(), {60.0}).rows.empty());
  CHECK(road_power(rides, {}, known(), upper).rows.empty());
  RoadLoad massless = known();
  massless.mass_kg = {0.0, 0.0};
  CHECK_THROWS_AS(road_power(rides, {}, massless, upper), std::invalid_argument);
}
