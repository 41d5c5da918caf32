#include "bothways/pair/wind.hpp"

#include "lib/pair/made_up.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <vector>

using namespace bothways;
using namespace made_up;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double drag_per_m = 0.5 * 1.2 * 0.55 / 210.0;

struct TwoRuns {
  Run out;
  Run back;
};

TwoRuns out_and_back(double wind_mps, double grade) {
  const auto run = [](double g, double w) {
    return run_of(Start([=](double, double v) { return scooter_mps2(v, g, w); }, 23.5), "0-50 mph", 0.01);
  };
  const Run out = run(grade, wind_mps);
  const Run back = run(-grade, -wind_mps);
  return {placed(out, 1, 0.0, 0.0, true), placed(back, 2, 120.0, out.length_m, false)};
}

}  // namespace

TEST_CASE("drag times wind is found whatever the slope of the road", "[pair]") {
  for (const double wind_mps : {-4.0, 0.0, 2.0}) {
    for (const double grade : {-0.02, 0.0, 0.015}) {
      const TwoRuns runs = out_and_back(wind_mps, grade);
      const auto fits = fit_wind(std::vector<WindEvidence>{{&runs.out, &runs.back, true}});
      REQUIRE(fits.size() == 4);
      double weight = 0.0;
      for (const WindFit& fit : fits) {
        CAPTURE(wind_mps, grade, fit.kappa_per_s, fit.sd_per_s);
        CHECK(std::abs(fit.kappa_per_s - drag_per_m * wind_mps) < 2.0 * fit.sd_per_s);
        weight += fit.weight;
      }
      CHECK_THAT(weight, WithinAbs(1.0, 1e-12));
      CHECK_THAT(fits[0].kappa_per_s, WithinAbs(drag_per_m * wind_mps, 0.0006));
    }
  }
}

TEST_CASE("without evidence the wind is what is usual, and no wind is told", "[pair]") {
  const Wind wind = wind_of({}, std::nullopt);
  CHECK_THAT(wind.along_mps.value, WithinAbs(0.0, 1e-9));
  CHECK_FALSE(is_told(wind));
  // Along and across the road alike, and across it half as much: E(w^2) of the prior's three scales.
  const double square = 0.3 * 0.7 * 0.7 + 0.4 * 1.8 * 1.8 + 0.3 * 3.2 * 3.2;
  CHECK_THAT(wind.acceleration_mps2, WithinAbs(1.5 * square * wind.drag_per_m, 1e-9));
  Conditions calm;
  calm.wind_mps = Range{0.0, 0.5};
  CHECK(wind_of({}, calm).acceleration_mps2 < 0.1 * wind.acceleration_mps2);
  Conditions heavy;
  heavy.total_mass_kg = 1200.0;
  CHECK(wind_of({}, heavy).drag_per_m < 0.3 * wind.drag_per_m);
}

TEST_CASE("an estimate's own error is not taken for wind: its square is shrunk", "[pair]") {
  // kappa known to 0.002 1/s only, and read as 0.004: plugged in, w = 2.5 m/s, and its square 6 (m/s)^2 too
  // large by 1.6 on average.
  Conditions scooter;
  scooter.total_mass_kg = 200.0;
  const std::vector<WindFit> vague{{1.0, 0.004, 0.002}};
  const std::vector<WindFit> sharp{{1.0, 0.004, 0.0001}};
  const Wind by_vague = wind_of(vague, scooter);
  const Wind by_sharp = wind_of(sharp, scooter);
  CHECK(std::abs(by_vague.along_mps.value) < std::abs(by_sharp.along_mps.value));
  CHECK(by_vague.along_mps.sd > by_sharp.along_mps.sd);
  CHECK(by_vague.acceleration_sd_mps2 > 0.0);
}

TEST_CASE("little drag times wind is calm for a scooter, but may be any wind for a car", "[pair]") {
  const std::vector<WindFit> calm{{1.0, 0.0002, 0.0009}};
  constexpr double small_scooter_w_kg = 12.0;
  constexpr double either_w_kg = 45.0;
  CHECK(is_told(wind_of(calm, std::nullopt, small_scooter_w_kg)));
  CHECK_FALSE(is_told(wind_of(calm, std::nullopt, either_w_kg)));
  Conditions scooter;
  scooter.total_mass_kg = 200.0;
  CHECK(is_told(wind_of(calm, scooter, either_w_kg)));
  // No car has so much drag in a wind that anyone rides in.
  const std::vector<WindFit> windy{{1.0, 0.0056, 0.0003}};
  CHECK(is_told(wind_of(windy, std::nullopt, either_w_kg)));
}

TEST_CASE("who says what was ridden is told of a wind that a car would leave open", "[pair]") {
  const std::vector<WindFit> breeze{{1.0, 0.0042, 0.0012}};  // 2.5 m/s for a scooter, 14 for a car
  constexpr double either_w_kg = 45.0;
  CHECK_FALSE(is_told(wind_of(std::vector<WindFit>{{1.0, 0.0012, 0.0012}}, std::nullopt, either_w_kg)));
  Conditions conditions;
  double heavier_per_m = 0.0;
  for (const VehicleKind kind : {VehicleKind::car, VehicleKind::motorcycle, VehicleKind::scooter}) {
    conditions.kind = kind;
    const Wind wind = wind_of(breeze, conditions, either_w_kg);
    CAPTURE(to_string(kind), wind.along_mps.value, wind.drag_per_m);
    CHECK(wind.drag_per_m > 1.2 * heavier_per_m);  // the lighter, the more
    heavier_per_m = wind.drag_per_m;
    if (kind == VehicleKind::scooter) {
      CHECK(is_told(wind));
      CHECK(wind.along_mps.lo95 < 2.5);
      CHECK(wind.along_mps.hi95 > 2.5);
    }
  }
  conditions.total_mass_kg = 140.0;  // weighed: lighter than most
  CHECK(wind_of(breeze, conditions, either_w_kg).drag_per_m > 1.2 * heavier_per_m);
}

TEST_CASE("spare power is acceleration times speed", "[pair]") {
  const TwoRuns runs = out_and_back(0.0, 0.0);
  const auto power = spare_power_w_kg(std::vector<WindEvidence>{{&runs.out, &runs.back, true}});
  REQUIRE(power);
  double most = 0.0;
  for (double v = 4.0; v < 23.0; v += 0.5) {
    most = std::max(most, scooter_mps2(v, 0.0, 0.0) * v);
  }
  CHECK(*power > 0.7 * most);
  CHECK(*power < 1.02 * most);
  CHECK_FALSE(spare_power_w_kg({}));
}

TEST_CASE("runs that tell nothing give no fit", "[pair]") {
  CHECK(fit_wind({}).empty());
  TwoRuns runs = out_and_back(0.0, 0.0);
  runs.out.edges.resize(1);
  CHECK(fit_wind(std::vector<WindEvidence>{{&runs.out, &runs.back, true}}).empty());
}
