#include "bothways/speed/positions.hpp"

#include "bothways/speed/derive.hpp"
#include "lib/speed/rides.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>

using namespace bothways;
using Catch::Matchers::WithinRel;

namespace {

SpeedSeries by_positions(double rate_hz, double white_sd_m) {
  sim::ReceiverModel model;
  model.rate_hz = rate_hz;
  model.with_speed = false;
  model.position_white_sd_m = white_sd_m;
  return speed_series(logged(model, 41));
}

}  // namespace

TEST_CASE("a log without speeds is timed by its positions, and a note says so", "[speed]") {
  const SpeedSeries series = by_positions(10.0, 0.02);
  CHECK(series.source == SpeedSource::positions);
  REQUIRE_FALSE(series.notes.empty());
  CHECK(series.notes.back().code == "speed-from-positions");
}

TEST_CASE(
    "the white noise of positions is estimated within 20 % from 5 Hz up, the drift's own steps counted in",
    "[speed]") {
  for (const double rate_hz : {5.0, 10.0}) {
    for (const double sd : {0.05, 0.2}) {
      // A drift of 1.5 m in 60 s moves by `step` from fix to fix, at random: in a third difference that is
      // 1 + 4 + 1 squares of it, where white noise has 1 + 9 + 9 + 1.
      const double step = 1.5 * std::sqrt(2.0 / (60.0 * rate_hz));
      INFO(rate_hz << " Hz, " << sd << " m");
      CHECK_THAT(by_positions(rate_hz, sd).receiver.position_white_sd_m,
                 WithinRel(std::hypot(sd, step * std::sqrt(6.0 / 20.0)), 0.2));
    }
  }
}

TEST_CASE("speed from positions is as near the truth as its own sd says", "[speed]") {
  const SpeedSeries series = by_positions(10.0, 0.02);
  REQUIRE(series.stretches.size() == 1);
  const Stretch& s = series.stretches.front();
  sim::TruthReader truth(six_starts());
  std::size_t inside = 0;
  std::size_t moving = 0;
  for (std::size_t i = 0; i < s.t_s.size(); ++i) {
    const double v_mps = truth.at(s.t_s[i]).v_mps;
    if (v_mps > 2.0) {
      ++moving;
      inside += std::abs(s.v_mps[i] - v_mps) < 1.96 * s.sd_mps[i] ? 1U : 0U;
    }
  }
  REQUIRE(moving > 500);
  CHECK(static_cast<double>(inside) > 0.92 * static_cast<double>(moving));
}

TEST_CASE("the drift of positions is seen at rest", "[speed]") {
  sim::ReceiverModel model;
  model.with_speed = false;
  model.position_drift_sd_m = 0.0;
  const double none = speed_series(logged(model, 42)).receiver.position_drift_sd_m;
  model.position_drift_sd_m = 3.0;
  const double much = speed_series(logged(model, 42)).receiver.position_drift_sd_m;
  CHECK(none < 0.3);
  CHECK_THAT(much, WithinRel(3.0, 0.4));  // six stops of 12 s show a drift of 60 s in part only
}
