#include "support/simulate/ride.hpp"

#include "bothways/core/units.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

using namespace bothways;
using namespace bothways::sim;
using Catch::Matchers::WithinAbs;

namespace {

double time_to_mph(const Truth& truth, std::size_t start, double mph) {
  const TrueStart& run = truth.starts.at(start);
  return crossing_s(truth, run, Speed::from_mph(mph)).value() - run.movement_s;
}

const double lift_mps = Speed::from_mph(51).mps();

/// Standing starts both ways over the same stretch, at full force from the first instant.
Truth there_and_back(const Road& road) {
  Script script = one_way(lift_mps, 150.0, 5.0);
  append(script, one_way(lift_mps, 150.0, 5.0));
  return ride(plain_scooter(), road, script);
}

/// Mean of the accelerations at each speed, in narrow bands: harmonic mean of the durations in each.
double pointwise_s(const Truth& one, std::size_t one_start, const Truth& other, std::size_t other_start,
                   double mph) {
  constexpr int bands = 400;
  double sum = 0.0;
  double last_one = 0.0;
  double last_other = 0.0;
  for (int i = 1; i <= bands; ++i) {
    const double here_one = time_to_mph(one, one_start, mph * i / bands);
    const double here_other = time_to_mph(other, other_start, mph * i / bands);
    sum += 2.0 / (1.0 / (here_one - last_one) + 1.0 / (here_other - last_other));
    last_one = here_one;
    last_other = here_other;
  }
  return sum;
}

}  // namespace

TEST_CASE("the simulated scooter takes the times of the reference model", "[simulate]") {
  // min(650 N, 12 hp / v), 200 kg, 210 kg effective; ODE and quadrature agree to 1e-7 for these figures.
  const Truth truth = ride(plain_scooter(), {}, {stand(5.0), full_start(lift_mps)});
  REQUIRE(truth.starts.size() == 1);
  CHECK(truth.starts[0].movement_s == 5.0);
  CHECK_THAT(time_to_mph(truth, 0, 30), WithinAbs(4.6919, 1e-4));
  CHECK_THAT(time_to_mph(truth, 0, 40), WithinAbs(6.7477, 1e-4));
  CHECK_THAT(time_to_mph(truth, 0, 50), WithinAbs(10.1536, 1e-4));
  const TrueStart& run = truth.starts[0];
  CHECK_THAT(crossing_s(truth, run, Length::from_m(133.7)).value() - run.movement_s,
             WithinAbs(10.154, 0.003));
}

TEST_CASE("the simulator coasts down in the times of 40 CFR 86.529-98", "[simulate]") {
  // Figure F98-9: force A + C V^2 (N, km/h), time from 70 to 60 km/h. [CFR86]
  struct Row {
    double mass_kg, constant_N, square_N, seconds;
  };
  const std::array<Row, 5> rows{{{100, 0.0, 0.0224, 2.95},
                                 {150, 4.32, 0.0238, 3.99},
                                 {200, 8.69, 0.0252, 4.85},
                                 {250, 13.06, 0.0266, 5.57},
                                 {300, 17.43, 0.0279, 6.18}}};
  for (const Row& row : rows) {
    Vehicle vehicle = plain_scooter();
    vehicle.mass_kg = row.mass_kg;
    vehicle.effective_mass_kg = row.mass_kg;
    vehicle.rolling = 0.0;
    vehicle.constant_N = row.constant_N;
    vehicle.drag_area_m2 = 2.0 * row.square_N * 12.96 / vehicle.air_kg_m3;
    const Truth truth =
        ride(vehicle, {}, {full_start(Speed::from_kmh(72).mps()), coast_to(Speed::from_kmh(59).mps())});
    const auto passes = [&](double kmh) {
      for (std::size_t i = truth.starts[0].last_row; i + 1 < truth.rows.size(); ++i) {
        const auto& a = truth.rows[i];
        const auto& b = truth.rows[i + 1];
        if (a.v_mps >= kmh / 3.6 && b.v_mps < kmh / 3.6) {
          return a.t_s + (b.t_s - a.t_s) * (a.v_mps - kmh / 3.6) / (a.v_mps - b.v_mps);
        }
      }
      return 0.0;
    };
    CHECK_THAT(passes(60.0) - passes(70.0), WithinAbs(row.seconds, 0.01));
  }
}

TEST_CASE("opposite runs leave the residues of the reference table", "[simulate]") {
  // Our own quadrature of the same model: arithmetic, harmonic and pointwise mean, per cent of level time.
  struct Row {
    double slope, wind_mps;
    std::array<double, 3> arithmetic, harmonic, pointwise;
  };
  const std::array<Row, 8> rows{
      {{0.005, 0.0, {0.027, 0.033, 0.068}, {0.000, 0.001, 0.009}, {0.0, 0.0, 0.0}},
       {0.01, 0.0, {0.107, 0.133, 0.274}, {0.000, 0.003, 0.038}, {0.0, 0.0, 0.0}},
       {0.02, 0.0, {0.429, 0.536, 1.110}, {-0.001, 0.013, 0.153}, {-0.001, -0.001, -0.001}},
       {0.0, 1.0, {0.062, 0.083, 0.187}, {0.056, 0.067, 0.123}, {0.054, 0.060, 0.081}},
       {0.0, 3.0, {0.535, 0.737, 1.730}, {0.480, 0.592, 1.118}, {0.463, 0.525, 0.724}},
       {0.0, 5.0, {1.441, 2.045, 5.148}, {1.276, 1.615, 3.221}, {1.232, 1.427, 2.013}},
       {0.01, 3.0, {0.802, 1.185, 3.114}, {0.483, 0.626, 1.426}, {0.463, 0.524, 0.724}},
       {0.01, -3.0, {0.487, 0.566, 0.985}, {0.477, 0.566, 0.906}, {0.463, 0.524, 0.724}}}};
  const Truth level = there_and_back({});
  for (const Row& row : rows) {
    const Truth truth = there_and_back({.slope = row.slope, .wind_mps = row.wind_mps});
    REQUIRE(truth.starts.size() == 2);
    for (std::size_t k = 0; k < 3; ++k) {
      const double mph = std::array{30.0, 40.0, 50.0}.at(k);
      const double t0 = time_to_mph(level, 0, mph);
      const double out = time_to_mph(truth, 0, mph);
      const double back = time_to_mph(truth, 1, mph);
      INFO("slope " << row.slope << ", wind " << row.wind_mps << ", " << mph << " mph");
      CHECK_THAT(50.0 * (out + back) / t0 - 100.0, WithinAbs(row.arithmetic.at(k), 0.01));
      CHECK_THAT(200.0 / (1.0 / out + 1.0 / back) / t0 - 100.0, WithinAbs(row.harmonic.at(k), 0.01));
      CHECK_THAT(100.0 * pointwise_s(truth, 0, truth, 1, mph) / t0 - 100.0,
                 WithinAbs(row.pointwise.at(k), 0.01));
    }
  }
}

TEST_CASE("on a road that bends only runs over the same stretch cancel the slope", "[simulate]") {
  // Slope rising by 1 % in 100 m from level at the start: same stretch from opposite ends, or both from the
  // start going apart (a dip). 0-50 mph, pointwise mean, our own quadrature.
  Road climb{.bend_per_m = 1e-4};
  const Truth level = there_and_back({});
  const double t0 = time_to_mph(level, 0, 50.0);
  const double reach_m = 133.7;
  const auto from = [&](double bend_x_m, double heading_sign) {
    Road road = climb;
    road.bend_per_m = heading_sign * 1e-4;
    road.bend_x_m = bend_x_m;
    return ride(plain_scooter(), road, {stand(1.0), full_start(lift_mps)});
  };
  const Truth up = from(0.0, 1.0);
  const Truth down = from(reach_m, 1.0);  // the other end of the climb, seen in the direction of travel
  const Truth apart = from(0.0, 1.0);     // the other side of the dip is the same
  const double same_stretch = 100.0 * pointwise_s(up, 0, down, 0, 50.0) / t0 - 100.0;
  const double going_apart = 100.0 * pointwise_s(up, 0, apart, 0, 50.0) / t0 - 100.0;
  CHECK_THAT(same_stretch, WithinAbs(-0.13, 0.05));
  CHECK_THAT(going_apart, WithinAbs(3.42, 0.05));
}

TEST_CASE("a creeping clutch moves off late and needs longer for the first foot", "[simulate]") {
  const Truth plain = ride(plain_scooter(), {}, {stand(5.0), full_start(lift_mps)});
  const Truth creeping = ride(scooter(0.3), {}, {stand(5.0), full_start(lift_mps)});
  const double plain_foot_s = plain.starts[0].foot_s - plain.starts[0].movement_s;
  const double creeping_foot_s = creeping.starts[0].foot_s - creeping.starts[0].movement_s;
  CHECK_THAT(plain_foot_s, WithinAbs(std::sqrt(2.0 * 0.3048 / 2.957), 0.002));
  CHECK(creeping_foot_s > plain_foot_s + 0.15);
  CHECK(creeping_foot_s < plain_foot_s + 0.35);
}

TEST_CASE("a gear change takes about as long as its gap", "[simulate]") {
  const Truth with = ride(geared_motorcycle(0.3), {}, {full_start(lift_mps)});
  const Truth without = ride(geared_motorcycle(0.1), {}, {full_start(lift_mps)});
  // three changes of 0.2 s more each, and the speed lost by air and rolling resistance in them
  CHECK_THAT(time_to_mph(with, 0, 50) - time_to_mph(without, 0, 50), WithinAbs(0.66, 0.1));
}

TEST_CASE("a script's starts are recorded with their kinds and the truth never runs backwards",
          "[simulate]") {
  Random random(4);
  Script script = town(2, random);
  append(script, jab(random));
  append(script, rolling_start(20.0, random));
  append(script, aborted(random));
  append(script, one_way(lift_mps, 280.0, 12.0));
  append(script, one_way(lift_mps, 280.0, 12.0));
  const Truth truth = ride(scooter(), {.slope = 0.01, .gust_sd_mps = 0.5}, script, 9, {0.01, 0.1, 0.1});
  std::vector<StartKind> kinds;
  for (const auto& start : truth.starts) {
    kinds.push_back(start.kind);
    CHECK(start.lift_s > start.movement_s);
    CHECK((!start.standing() || truth.rows[start.first_row].v_mps == 0.0));
    CHECK((start.standing() || truth.rows[start.first_row].v_mps > 5.0 * 0.44704 * 0.9));
  }
  CHECK(kinds == std::vector{StartKind::gentle, StartKind::gentle, StartKind::gentle, StartKind::jab,
                             StartKind::gentle, StartKind::rolling, StartKind::lifted, StartKind::run,
                             StartKind::run});
  for (std::size_t i = 1; i < truth.rows.size(); ++i) {
    const auto& a = truth.rows[i - 1];
    const auto& b = truth.rows[i];
    REQUIRE(b.t_s >= a.t_s);
    REQUIRE(b.s_m >= a.s_m);
    REQUIRE(b.v_mps >= 0.0);
  }
  const auto& out = truth.starts[7];
  const auto& back = truth.starts[8];
  CHECK_THAT(std::abs(out.heading_deg - back.heading_deg), WithinAbs(180.0, 0.1));
}

TEST_CASE("the same seed gives the same ride and another seed another", "[simulate]") {
  const Script script = one_way(lift_mps, 280.0, 10.0);
  const Road gusty{.wind_mps = 1.0, .gust_sd_mps = 0.5};
  const auto last = [&](std::uint64_t seed) {
    return ride(scooter(), gusty, script, seed, {0.01, 0.1, 0.1}).rows.back();
  };
  CHECK(last(3).t_s == last(3).t_s);
  CHECK(last(3).x_m == last(3).x_m);
  CHECK(last(3).t_s != last(4).t_s);
}
