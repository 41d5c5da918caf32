#include "bothways/speed/lag.hpp"

#include "bothways/speed/derive.hpp"
#include "lib/speed/rides.hpp"
#include "support/notes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("the lag of the speed behind the positions is found to 0.04 s at 10 Hz", "[speed]") {
  for (const double lag_s : {0.0, 0.1, 0.15, 0.3, 0.5}) {
    sim::ReceiverModel model;
    model.lag_s = lag_s;
    const Lag lag = estimate_lag(speed_series(logged(model, 31)));
    INFO("simulated " << lag_s << " s, found " << lag.lag_s << " +- " << lag.sd_s);
    CHECK_THAT(lag.lag_s, WithinAbs(lag_s, 0.04));
    CHECK(lag.events >= 6);
    CHECK(lag.sd_s > 0.0);
  }
}

TEST_CASE("the lag is as near the truth as its own sd says", "[speed]") {
  double square = 0.0;
  constexpr int logs = 25;
  for (std::uint64_t seed = 101; seed < 101 + logs; ++seed) {
    sim::ReceiverModel model;
    model.lag_s = 0.2;
    const Lag lag = estimate_lag(speed_series(logged(model, seed)));
    square += std::pow((lag.lag_s - 0.2) / lag.sd_s, 2) / logs;
  }
  // Measured 2.3: the sd is told too small by a third. Twice or half of it is outside.
  CHECK(square > 0.8);
  CHECK(square < 5.0);
}

TEST_CASE("a speed that comes late as a whole is found as late, smoothed or not", "[speed]") {
  sim::ReceiverModel model;
  model.delay_s = 0.2;
  CHECK_THAT(estimate_lag(speed_series(logged(model, 32))).lag_s, WithinAbs(0.2, 0.04));
}

TEST_CASE("positions that come as late as the speed hide its lag", "[speed]") {
  // A limit of the method, told in docs/method.md.
  sim::ReceiverModel model;
  model.lag_s = 0.3;
  model.position_lag_s = 0.3;
  CHECK_THAT(estimate_lag(speed_series(logged(model, 33))).lag_s, WithinAbs(0.0, 0.04));
}

TEST_CASE("without positions, or with too few changes of speed, the log cannot tell the lag", "[speed]") {
  sim::ReceiverModel model;
  model.lag_s = 0.3;
  model.with_position = false;
  const Lag none = estimate_lag(speed_series(logged(model, 34)));
  CHECK(none.lag_s == 0.0);
  CHECK(none.sd_s == 0.0);
  model.with_position = true;
  Log log = logged(model, 34);
  log.fixes.resize(log.fixes.size() / 6);
  CHECK(estimate_lag(speed_series(log)).sd_s == 0.0);
}

TEST_CASE("a slow log whose speeds come late says so, one whose speeds do not and a fast one are silent",
          "[speed]") {
  const auto is_noted = [](double rate_hz, double lag_s) {
    sim::ReceiverModel model;
    model.rate_hz = rate_hz;
    model.lag_s = lag_s;
    const SpeedSeries series = speed_series(logged(model, 35));
    return has_note(series.notes, "late-speeds");
  };
  CHECK(is_noted(1.0, 0.6));
  CHECK_FALSE(is_noted(1.0, 0.0));
  CHECK_FALSE(is_noted(10.0, 0.6));
}
