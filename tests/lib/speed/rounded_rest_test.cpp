#include "bothways/speed/rounded_rest.hpp"

#include "bothways/core/units.hpp"
#include "bothways/speed/derive.hpp"
#include "lib/speed/rides.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinRel;

namespace {

std::vector<std::size_t> counts_at_rest(int axes, double sd_steps) {
  sim::Random random(31);
  std::vector<std::size_t> counts(40);
  for (int i = 0; i < 3000; ++i) {
    const double across = axes == 2 ? sd_steps * random.normal() : 0.0;
    ++counts[static_cast<std::size_t>(std::lround(std::hypot(sd_steps * random.normal(), across)))];
  }
  return counts;
}

}  // namespace

TEST_CASE("the noise at rest is told from how often each step of a coarse speed is written", "[speed]") {
  constexpr double step_mps = 0.2;
  for (const int axes : {1, 2}) {
    for (const double sd_steps : {0.4, 0.7, 1.2}) {
      CAPTURE(axes, sd_steps);
      const RoundedRest found = rounded_rest(counts_at_rest(axes, sd_steps), step_mps);
      CHECK(found.axes == axes);
      CHECK_THAT(found.sd_mps, WithinRel(sd_steps * step_mps, 0.08));
    }
  }
}

TEST_CASE("where 0 and one step alone are written, the noise has two axes", "[speed]") {
  const RoundedRest found = rounded_rest({400, 600}, 0.1);
  CHECK(found.axes == 2);
  CHECK(found.sd_mps > 0.03);
  CHECK(found.sd_mps < 0.06);
}

TEST_CASE("zeros alone say that the noise is small beside the step", "[speed]") {
  CHECK_THAT(rounded_rest({500}, 0.3).sd_mps, WithinRel(0.05, 0.01));
}

TEST_CASE("zeros that rounding makes are no hold, and do not hide the noise at rest", "[speed]") {
  for (const double white_mps : {0.02, 0.03}) {
    CAPTURE(white_mps);
    sim::ReceiverModel model;
    model.white_sd_mps = white_mps;
    model.slow_sd_mps = 0.0;
    model.resolution_mps = 0.1 * mps_per_knot;
    const Receiver r = speed_series(logged(model, 32)).receiver;
    CHECK(r.zero_hold_mps == 0.0);
    CHECK(r.standing_axes == 2);
    CHECK_THAT(r.standing_sd_mps, WithinRel(white_mps, 0.15));
  }
}

TEST_CASE("zeros of a hold are a hold, however coarse the step", "[speed]") {
  sim::ReceiverModel model;
  model.zero_hold_mps = 0.4;
  model.resolution_mps = 0.1;
  CHECK(speed_series(logged(model, 33)).receiver.zero_hold_mps > 0.25);
}
