#include "bothways/speed/frozen.hpp"

#include "bothways/speed/derive.hpp"
#include "lib/speed/stretches.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

Stretch at(const std::vector<double>& north_m, double dt_s) {
  Stretch s = stretch_of(std::vector<double>(north_m.size(), 0.0), dt_s);
  s.north_m = north_m;
  s.east_m.assign(north_m.size(), 5.0);
  return s;
}

}  // namespace

TEST_CASE("the step in which positions are written is their smallest move, on the coarser axis", "[speed]") {
  const Stretch north = at({0.0, 3.0, 3.0, 2.5}, 1.0);
  CHECK_THAT(position_step_m({north, at({7.0, 6.75}, 1.0)}), WithinAbs(0.25, 1e-12));
  CHECK(std::isinf(position_step_m({at({4.0, 4.0}, 1.0)})));
  Stretch both = north;
  both.east_m = {0.0, 0.8, 1.6, 1.6};
  CHECK_THAT(position_step_m({both}), WithinAbs(0.8, 1e-12));
  Stretch east = at({4.0, 4.0}, 1.0);
  east.east_m = {0.0, 0.8};
  CHECK_THAT(position_step_m({east}), WithinAbs(0.8, 1e-12));
}

TEST_CASE("a place that is written twice is frozen where a slow vehicle would have shown a step", "[speed]") {
  const Stretch s = at({0.0, 0.0, 4.0, 5.0, 5.0, 5.0}, 1.0);
  CHECK(frozen_samples(s, 0.01, 0.5) == std::vector<char>{1, 1, 0, 1, 1, 1});
  // 1.1 m, the fifth decimal of a degree: half a metre a second takes 2.2 s.
  CHECK(frozen_samples(s, 1.1, 0.5) == std::vector<char>(6, 0));
  CHECK(frozen_samples(s, 0.9, 0.5) == std::vector<char>{0, 0, 0, 1, 1, 1});
}

TEST_CASE("a neighbour to the north or to the east alone is another place", "[speed]") {
  Stretch s = at({0.0, 0.0, 0.0}, 1.0);
  s.east_m = {1.0, 2.0, 2.0};
  CHECK(frozen_samples(s, 0.01, 0.5) == std::vector<char>{0, 1, 1});
}

TEST_CASE("a vehicle whose place is frozen stands until it moves, whatever smoothing makes of it",
          "[speed]") {
  const SpeedPoints ride =
      SpeedPoints{{0.0, 0.0}, {12.5, 0.0}} + SpeedPoints{{6.0, 18.0}, {6.0, 0.0}, {12.0, 0.0}};
  const SpeedSeries series = speed_series(drawn_positions(ride, 1.0, [](double) { return 0.0; }));
  REQUIRE(series.stretches.size() == 1);
  const Stretch& s = series.stretches.front();
  for (std::size_t i = 0; i <= 12; ++i) {
    CAPTURE(i);
    CHECK(s.frozen[i] == 1);
    CHECK(s.at_rest[i] == 1);
    CHECK(s.v_mps[i] == 0.0);
  }
  CHECK(s.frozen[13] == 0);
  CHECK(s.v_mps[13] > 0.5);
}

TEST_CASE("places that a fast receiver holds at rest go astray when it lets go, others do not", "[speed]") {
  const SpeedPoints ride =
      SpeedPoints{{0.0, 0.0}, {12.5, 0.0}} + SpeedPoints{{6.0, 18.0}, {6.0, 0.0}, {12.0, 0.0}};
  const auto stray_mps = [&](double rate_hz, double noise_m) {
    double sign = 1.0;
    const Log log = drawn_positions(ride, rate_hz, [&](double) {
      sign = -sign;
      return sign * noise_m;
    });
    return speed_series(log).receiver.position_stray_sd_mps;
  };
  CHECK(stray_mps(5.0, 0.0) == 0.35);
  CHECK(stray_mps(5.0, 0.02) == 0.08);
  CHECK(stray_mps(1.0, 0.0) == 1.0);
}

TEST_CASE("reported speeds freeze nothing", "[speed]") {
  const SpeedSeries series = speed_series(drawn_log({{0.0, 0.0}, {12.0, 0.0}, {18.0, 18.0}}));
  CHECK(series.stretches.front().frozen.empty());
}
