#include "bothways/run/window.hpp"

#include "bothways/speed/derive.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>

using namespace bothways;
using Catch::Matchers::WithinRel;

namespace {

Log one_start() {
  return drawn_log({{0.0, 0.0}, {12.0, 0.0}, {18.0, 18.0}, {24.0, 0.0}, {36.0, 0.0}});
}

StartWindow window_of(const SpeedSeries& series, bool long_creep = false) {
  const Starts starts = detect_starts(series);
  REQUIRE(starts.standing.size() == 1);
  return start_window(series, starts.standing.front(), launch_model(series), long_creep);
}

}  // namespace

TEST_CASE("a reading has the white noise of its receiver and that of its rounding", "[run]") {
  Log log = one_start();
  for (Fix& fix : log.fixes) {
    fix.speed_mps = std::round(fix.speed_mps * 10.0) / 10.0;
  }
  const SpeedSeries series = speed_series(log);
  REQUIRE(series.receiver.resolution_mps == 0.1);
  const double white = series.receiver.white_sd_mps;
  for (const Reading& reading : window_of(series).launch.readings) {
    CHECK_THAT(reading.variance, WithinRel(white * white + 0.01 / 12.0, 1e-9));
  }
}

TEST_CASE("a reading that the receiver calls three times worse has nine times the variance", "[run]") {
  Log log = one_start();
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    log.fixes[i].speed_sd_mps = i == 150 ? 0.3 : 0.1;  // at 15 s, in the run
  }
  const SpeedSeries series = speed_series(log);
  const double usual = series.receiver.white_sd_mps * series.receiver.white_sd_mps;
  const StartWindow window = window_of(series);
  int worse = 0;
  for (const Reading& reading : window.launch.readings) {
    const bool is_worse =
        std::abs(seconds_between(log.fixes[150].time, shifted(window.start, reading.t_s))) < 0.01;
    CHECK_THAT(reading.variance, WithinRel((is_worse ? 9.0 : 1.0) * usual, 1e-6));
    worse += is_worse ? 1 : 0;
  }
  CHECK(worse == 1);
}

TEST_CASE("a launch is sought from 1.4 s before it is seen at 10 Hz, and 4 s earlier where it may creep",
          "[run]") {
  const SpeedSeries series = speed_series(one_start());
  double lags_s = 0.0;
  for (const Smoothing& candidate : series.receiver.smoothing) {
    lags_s = std::max(lags_s, 3.0 * candidate.filter.lag_s);
  }
  const LaunchRange usual = window_of(series).launch.range;
  CHECK_THAT(usual.latest_s - usual.earliest_s, WithinRel(1.2 + 0.22 + lags_s, 1e-9));
  const LaunchRange creep = window_of(series, true).launch.range;
  CHECK_THAT(creep.latest_s - creep.earliest_s, WithinRel(std::min(5.5 + 0.22 + lags_s, 6.0 + 0.1), 1e-9));
}

TEST_CASE("in the last second before a held place is let go nothing is read", "[run]") {
  const SpeedPoints ride{{0.0, 0.0}, {12.5, 0.0}, {18.5, 18.0}, {24.5, 0.0}, {36.5, 0.0}};
  for (const double rate_hz : {5.0, 1.0}) {  // the last is at 12.4 s; of a slow receiver it is one reading
    CAPTURE(rate_hz);
    const SpeedSeries series = speed_series(drawn_positions(ride, rate_hz, [](double) { return 0.0; }));
    const StartWindow window = window_of(series, true);
    const double begin_s = seconds_between(series.stretches.front().start, window.start);
    for (const Reading& reading : window.launch.readings) {
      const double t_s = begin_s + reading.t_s;
      CAPTURE(t_s);
      const bool unread = rate_hz > 3.0 && t_s > 11.3 && t_s < 12.5;
      CHECK((reading.kind == Reading::Kind::excluded) == unread);
    }
  }
}

TEST_CASE("where positions are frozen a launch is sought from 2 s before the last frozen one", "[run]") {
  const SpeedPoints ride{{0.0, 0.0}, {12.5, 0.0}, {18.5, 18.0}, {24.5, 0.0}, {36.5, 0.0}};
  const SpeedSeries series = speed_series(drawn_positions(ride, 1.0, [](double) { return 0.0; }));
  const StartWindow window = window_of(series, true);
  const double frozen_s = seconds_between(window.start, shifted(series.stretches.front().start, 12.0));
  CHECK_THAT(window.launch.range.earliest_s, WithinRel(frozen_s - 2.0, 1e-9));
  CHECK_THAT(window.launch.range.latest_s, WithinRel(frozen_s + 1.0, 1e-9));
}
