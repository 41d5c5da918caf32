#include "bothways/speed/derive.hpp"

#include "lib/speed/rides.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <limits>
#include <stdexcept>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

Log ten_hertz() {
  return logged({}, 51);
}

/// Bits, so that unknown equals unknown.
bool same(double a, double b) {
  return a == b || (std::isnan(a) && std::isnan(b));
}

void check_same(const SpeedSeries& a, const SpeedSeries& b) {
  REQUIRE(a.stretches.size() == b.stretches.size());
  CHECK(a.source == b.source);
  CHECK(a.receiver.white_sd_mps == b.receiver.white_sd_mps);
  CHECK(a.receiver.slow_sd_mps == b.receiver.slow_sd_mps);
  CHECK(a.receiver.standing_sd_mps == b.receiver.standing_sd_mps);
  CHECK(a.receiver.zero_hold_mps == b.receiver.zero_hold_mps);
  CHECK(a.receiver.lag_s == b.receiver.lag_s);
  CHECK(a.receiver.position_white_sd_m == b.receiver.position_white_sd_m);
  for (std::size_t k = 0; k < a.stretches.size(); ++k) {
    const Stretch& s = a.stretches[k];
    const Stretch& t = b.stretches[k];
    REQUIRE(s.t_s == t.t_s);
    CHECK(s.v_mps == t.v_mps);
    CHECK(s.sd_mps == t.sd_mps);
    CHECK(s.validity == t.validity);
    CHECK(s.at_rest == t.at_rest);
    bool places = true;
    for (std::size_t i = 0; i < s.t_s.size(); ++i) {
      places = places && same(s.east_m[i], t.east_m[i]) && same(s.north_m[i], t.north_m[i]);
    }
    CHECK(places);
  }
}

}  // namespace

TEST_CASE("a log without a gap is one stretch with a row for each fix", "[speed]") {
  const Log log = ten_hertz();
  const SpeedSeries series = speed_series(log);
  CHECK(series.source == SpeedSource::reported);
  CHECK(series.notes.empty());
  REQUIRE(series.stretches.size() == 1);
  const Stretch& s = series.stretches.front();
  REQUIRE(s.t_s.size() == log.fixes.size());
  CHECK(s.start == log.fixes.front().time);
  CHECK(s.v_mps[700] == log.fixes[700].speed_mps);
  for (const std::size_t rows :
       {s.v_mps.size(), s.sd_mps.size(), s.validity.size(), s.smooth_mps.size(), s.at_rest.size()}) {
    CHECK(rows == s.t_s.size());
  }
  CHECK_THAT(series.receiver.rate_hz, WithinAbs(10.0, 1e-6));
}

TEST_CASE("a silence longer than the limit cuts the series, a shorter one does not", "[speed]") {
  Log log = ten_hertz();
  const auto from = log.fixes.begin() + 300;
  Log hole = log;
  hole.fixes.erase(hole.fixes.begin() + 300, hole.fixes.begin() + 312);  // 1.3 s
  CHECK(speed_series(hole).stretches.size() == 1);
  CHECK(speed_series(hole, {.gap_s = 1.0}).stretches.size() == 2);
  log.fixes.erase(from, from + 40);  // 4.1 s
  const SpeedSeries cut = speed_series(log);
  REQUIRE(cut.stretches.size() == 2);
  CHECK(cut.stretches[0].t_s.size() == 300);
  REQUIRE(cut.notes.size() == 1);
  CHECK(cut.notes.front().code == "gaps");
  CHECK(speed_series(log, {.gap_s = 5.0}).stretches.size() == 1);
  CHECK_THROWS_AS(speed_series(log, {.gap_s = -1.0}), std::invalid_argument);
  CHECK_THROWS_AS(speed_series(log, {.gap_s = std::numeric_limits<double>::quiet_NaN()}),
                  std::invalid_argument);
}

TEST_CASE("a fix alone between two gaps is no stretch", "[speed]") {
  Log log = ten_hertz();
  log.fixes.erase(log.fixes.begin() + 300, log.fixes.begin() + 340);
  log.fixes.erase(log.fixes.begin() + 301, log.fixes.begin() + 341);
  CHECK(speed_series(log).stretches.size() == 2);
}

TEST_CASE("impossible readings are counted in a note and have no say", "[speed]") {
  Log log = ten_hertz();
  log.fixes[400].speed_mps += 8.0;
  log.fixes[450].speed_mps += 8.0;
  const SpeedSeries series = speed_series(log);
  REQUIRE(series.notes.size() == 1);
  CHECK(series.notes.front().code == "speed-spikes");
  CHECK(series.notes.front().text == "2 impossible speed readings were left out.");
  CHECK(series.outliers == 2);
  const Stretch& s = series.stretches.front();
  CHECK(s.validity[400] == Validity::spike);
  CHECK(s.validity[401] == Validity::valid);
  CHECK(s.v_mps[400] == log.fixes[400].speed_mps);  // it keeps its place and its figure
  CHECK(s.sd_mps[400] < 1.0);
}

TEST_CASE("positions are used where speeds are missing from more than half of the fixes", "[speed]") {
  Log log = ten_hertz();
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    if (i % 3 != 0) {
      log.fixes[i].speed_mps = unknown;
    }
  }
  const SpeedSeries series = speed_series(log);
  CHECK(series.source == SpeedSource::positions);
  CHECK(series.stretches.front().t_s.size() == log.fixes.size());
}

TEST_CASE("fewer than two usable fixes give no stretch and no error", "[speed]") {
  Log log = ten_hertz();
  log.fixes.resize(1);
  CHECK(speed_series(log).stretches.empty());
  log.fixes.clear();
  CHECK(speed_series(log).stretches.empty());
}

TEST_CASE("the same log gives the same bits", "[speed]") {
  check_same(speed_series(ten_hertz()), speed_series(ten_hertz()));
  sim::ReceiverModel places;
  places.with_speed = false;
  check_same(speed_series(logged(places, 52)), speed_series(logged(places, 52)));
}

TEST_CASE("a shift of all times changes nothing but the times", "[speed]") {
  const Log log = ten_hertz();
  for (const std::int64_t shift_us : {std::int64_t{86'400'000'000}, std::int64_t{-3'600'123'457}}) {
    Log later = log;
    for (Fix& fix : later.fixes) {
      fix.time.unix_us += shift_us;
    }
    const SpeedSeries a = speed_series(log);
    const SpeedSeries b = speed_series(later);
    check_same(a, b);
    CHECK(b.stretches.front().start.unix_us == a.stretches.front().start.unix_us + shift_us);
  }
}

TEST_CASE("a log of nothing but rest, or of one constant speed, has finite figures", "[speed]") {
  for (const double v_mps : {0.0, 12.0}) {
    Log log = ten_hertz();
    for (Fix& fix : log.fixes) {
      fix.speed_mps = v_mps;
    }
    const Receiver r = speed_series(log).receiver;
    for (const double x : {r.white_sd_mps, r.slow_sd_mps, r.slow_time_s, r.standing_sd_mps, r.zero_hold_mps,
                           r.lag_s, r.lag_sd_s}) {
      CHECK(std::isfinite(x));
    }
    CHECK(r.white_sd_mps > 0.0);
    CHECK(r.standing_sd_mps > 0.0);
  }
}
