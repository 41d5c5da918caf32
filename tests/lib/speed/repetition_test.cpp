#include "bothways/speed/repetition.hpp"

#include "bothways/core/units.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/speed/derive.hpp"
#include "lib/speed/rides.hpp"
#include "support/notes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// The last fix again in each row, as a recorder writes them that asks faster than the receiver answers.
/// @param late_s  from a reading to the earliest row that may show it
Log shown_again(const Log& readings, double rows_hz, double first_s, double late_s) {
  Log log = readings;
  log.fixes.clear();
  std::size_t k = 0;
  for (int i = 0; k + 1 < readings.fixes.size(); ++i) {
    const Instant at = shifted(readings.fixes.front().time, late_s + first_s + i / rows_hz);
    while (k + 1 < readings.fixes.size() && !(at < shifted(readings.fixes[k + 1].time, late_s))) {
      ++k;
    }
    log.fixes.push_back(readings.fixes[k]);
    log.fixes.back().time = at;
  }
  return log;
}

Log logged_at_rate(double rate_hz) {
  sim::ReceiverModel model;
  model.rate_hz = rate_hz;
  return logged(model, 51);
}

/// Of a receiver that holds speed and place at rest.
Log held_at_rest() {
  sim::ReceiverModel model;
  model.rate_hz = 1.0;
  model.zero_hold_mps = 0.5;
  Log readings = logged(model, 52);
  for (std::size_t i = 1; i < readings.fixes.size(); ++i) {
    if (readings.fixes[i].speed_mps == 0.0 && readings.fixes[i - 1].speed_mps == 0.0) {
      readings.fixes[i].lat_deg = readings.fixes[i - 1].lat_deg;
      readings.fixes[i].lon_deg = readings.fixes[i - 1].lon_deg;
    }
  }
  return readings;
}

/// From a reading to the first row that shows it, at most, s.
double most_late_s(const Log& rows, const Log& readings) {
  double most = 0.0;
  std::size_t row = 0;
  for (const Fix& reading : readings.fixes) {
    while (row + 1 < rows.fixes.size() && rows.fixes[row].time < reading.time) {
      ++row;
    }
    most = std::max(most, seconds_between(reading.time, rows.fixes[row].time));
  }
  return most;
}

/// How far times between samples are from those between the readings of the same number, s.
double most_off_s(const SpeedSeries& series, const Log& readings) {
  const Stretch& s = series.stretches.front();
  double most = 0.0;
  for (std::size_t i = 1; i < std::min(s.t_s.size(), readings.fixes.size()); ++i) {
    const double truth_s = seconds_between(readings.fixes.front().time, readings.fixes[i].time);
    most = std::max(most, std::abs(s.t_s[i] - s.t_s.front() - truth_s));
  }
  return most;
}

}  // namespace

TEST_CASE("of rows that repeat readings only the readings count", "[speed]") {
  struct Case {
    double readings_hz;
    double rows_hz;
    double first_s;
  };
  for (const Case c :
       {Case{1.0, 10.0, 0.03}, Case{1.0, 5.0, 0.0}, Case{2.0, 10.0, 0.07}, Case{5.0, 10.0, 0.02}}) {
    CAPTURE(c.readings_hz, c.rows_hz, c.first_s);
    const Log readings = logged_at_rate(c.readings_hz);
    const Log rows = shown_again(readings, c.rows_hz, c.first_s, 0.12);
    const SpeedSeries series = speed_series(rows);
    CHECK(has_note(series.notes, "repeated-rows"));
    CHECK_THAT(series.receiver.rate_hz, WithinAbs(c.readings_hz, 1e-3));
    REQUIRE(series.stretches.size() == 1);
    const Stretch& s = series.stretches.front();
    CHECK_THAT(static_cast<double>(series.readings),
               WithinAbs(static_cast<double>(readings.fixes.size()), 1.0));
    REQUIRE(s.t_s.size() == series.readings);
    for (std::size_t i = 0; i < s.t_s.size(); ++i) {
      CHECK(s.v_mps[i] == readings.fixes.at(i).speed_mps);
    }
    CHECK(most_off_s(series, readings) < 1e-5);
  }
}

TEST_CASE("a reading is shown up to a row late: the beat of the readings tells their times", "[speed]") {
  const Log readings = logged_at_rate(1.0);
  const SpeedSeries uneven = speed_series(shown_again(readings, 10.0 / 3.0, 0.0, 0.0));  // 3, 3 and 4 rows
  REQUIRE(has_note(uneven.notes, "repeated-rows"));
  CHECK(most_off_s(uneven, readings) < 0.12);  // of rows 0.3 s apart
  const Log rows = shown_again(readings, 10.3, 0.0, 0.0);
  const SpeedSeries between = speed_series(rows);  // the first row stands 0 to 0.097 s after its reading
  REQUIRE(has_note(between.notes, "repeated-rows"));
  CHECK(most_late_s(rows, readings) > 0.08);
  CHECK(most_off_s(between, readings) < 0.05);
}

TEST_CASE("no reading is lost where the beat would put it before another", "[speed]") {
  Log readings = logged_at_rate(5.0);
  readings.fixes.resize(80);
  const Instant begin = readings.fixes.front().time;
  std::vector<const Fix*> fixes;
  for (std::size_t k = 0; k < readings.fixes.size(); ++k) {
    // Of four in a row the first is a row early, and moved; the second two rows early, and not moved.
    const double early_s = k == 40 ? 0.1 : k == 41 ? 0.2 : k == 42 ? 0.105 : k == 43 ? 0.02 : 0.0;
    readings.fixes[k].time = shifted(begin, 0.2 * static_cast<double>(k) - early_s);
    readings.fixes[k].speed_mps = 5.0 + 0.1 * static_cast<double>(k);
    fixes.push_back(&readings.fixes[k]);
  }
  const std::vector<Fix> kept = first_showings(fixes, {.period_s = 0.2, .row_s = 0.1});
  REQUIRE(kept.size() == fixes.size());
  CHECK_THAT(seconds_between(begin, kept[40].time), WithinAbs(7.9, 1e-6));
  CHECK_THAT(seconds_between(begin, kept[41].time), WithinAbs(8.0, 1e-6));
  CHECK_THAT(seconds_between(begin, kept[43].time), WithinAbs(8.6, 1e-6));  // on the beat
}

TEST_CASE("a reading held at rest stays one a period", "[speed]") {
  const Log readings = held_at_rest();
  const SpeedSeries series = speed_series(shown_again(readings, 10.0, 0.0, 0.0));
  REQUIRE(has_note(series.notes, "repeated-rows"));
  REQUIRE(series.stretches.size() == 1);
  CHECK_THAT(static_cast<double>(series.readings),
             WithinAbs(static_cast<double>(readings.fixes.size()), 1.0));
  CHECK(most_off_s(series, readings) < 1e-5);
}

TEST_CASE("a silence within a held reading keeps one row a period", "[speed]") {
  const Log readings = held_at_rest();
  Log rows = shown_again(readings, 10.0, 0.0, 0.0);
  const auto rests = [](const Fix& fix) { return fix.speed_mps == 0.0; };
  const auto moves = [](const Fix& fix) { return fix.speed_mps > 0.0; };
  auto rest = std::find_if(rows.fixes.begin(), rows.fixes.end(), moves);
  rest = std::find_if(rest, rows.fixes.end(), rests);  // the stop of 12 s after the first run
  REQUIRE(std::find_if(rest, rows.fixes.end(), moves) - rest > 100);
  rows.fixes.erase(rest + 20, rest + 70);
  const SpeedSeries series = speed_series(rows);
  REQUIRE(has_note(series.notes, "repeated-rows"));
  REQUIRE(series.stretches.size() == 2);
  CHECK_THAT(static_cast<double>(series.readings),
             WithinAbs(static_cast<double>(readings.fixes.size()) - 5.0, 1.0));
  const std::vector<double>& t_s = series.stretches.back().t_s;
  for (std::size_t i = 1; i < t_s.size(); ++i) {
    CHECK_THAT(t_s[i] - t_s[i - 1], WithinAbs(1.0, 0.02));
  }
}

TEST_CASE("a reading that is lost in motion leaves a silence, not the one before it again", "[speed]") {
  Log readings = logged_at_rate(1.0);
  std::size_t fastest = 0;
  for (std::size_t i = 0; i < readings.fixes.size(); ++i) {
    fastest = readings.fixes[i].speed_mps > readings.fixes[fastest].speed_mps ? i : fastest;
  }
  const auto at = readings.fixes.begin() + static_cast<std::ptrdiff_t>(fastest);
  readings.fixes.erase(at + 1, at + 6);
  const SpeedSeries series = speed_series(shown_again(readings, 10.0, 0.0, 0.0));
  REQUIRE(has_note(series.notes, "repeated-rows"));
  CHECK(series.stretches.size() == 2);
}

TEST_CASE("speeds without places, and places without speeds, are known to repeat", "[speed]") {
  sim::ReceiverModel model;
  model.rate_hz = 1.0;
  model.with_position = false;
  const SpeedSeries speeds = speed_series(shown_again(logged(model, 53), 10.0, 0.0, 0.0));
  CHECK(has_note(speeds.notes, "repeated-rows"));
  CHECK_THAT(speeds.receiver.rate_hz, WithinAbs(1.0, 1e-3));
  model.with_position = true;
  model.with_speed = false;
  const SpeedSeries places = speed_series(shown_again(logged(model, 54), 10.0, 0.0, 0.0));
  CHECK(has_note(places.notes, "repeated-rows"));
  CHECK_THAT(places.receiver.rate_hz, WithinAbs(1.0, 1e-3));
}

TEST_CASE("ordinary logs repeat nothing, however coarse, and whatever they hold at rest", "[speed]") {
  for (const double rate_hz : {1.0, 5.0, 10.0, 25.0}) {
    for (const double step_mps : {0.0, 0.1, mps_per_kmh, mps_per_knot}) {
      for (const int decimals : {5, 7}) {
        for (const bool with_position : {true, false}) {
          for (const bool with_speed : {true, false}) {
            if (!with_position && !with_speed) {
              continue;
            }
            CAPTURE(rate_hz, step_mps, decimals, with_position, with_speed);
            sim::ReceiverModel model = sim::logger(rate_hz, 0.05);
            model.resolution_mps = step_mps;
            model.coordinate_decimals = decimals;
            model.with_position = with_position;
            model.with_speed = with_speed;
            model.zero_hold_mps = step_mps > 0.2 ? 0.6 : 0.0;
            CHECK_FALSE(has_note(speed_series(logged(model, 55)).notes, "repeated-rows"));
          }
        }
      }
    }
  }
  CHECK_FALSE(has_note(speed_series(logged(sim::phone(1.0), 56)).notes, "repeated-rows"));
}

TEST_CASE("rows that repeat unevenly have no beat, and stay as they are", "[speed]") {
  Log log = logged_at_rate(10.0);
  std::size_t from = 0;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const std::size_t rows = 2 + 3 * ((from * 7) % 3);  // 2, 5 or 8
    from = i - from >= rows ? i : from;
    const Instant at = log.fixes[i].time;
    log.fixes[i] = log.fixes[from];
    log.fixes[i].time = at;
  }
  CHECK_FALSE(has_note(speed_series(log).notes, "repeated-rows"));
}

TEST_CASE("a ride tells the rows that it was read from, and the rate of its readings", "[run]") {
  const Log rows = shown_again(logged_at_rate(1.0), 10.0, 0.0, 0.0);
  const Ride ride = analyse(rows);
  CHECK(ride.fixes == rows.fixes.size());
  CHECK_THAT(static_cast<double>(ride.readings), WithinAbs(static_cast<double>(ride.fixes) / 10.0, 1.0));
  CHECK(ride.trace.fixes == ride.readings);
  CHECK_THAT(ride.trace.step_s, WithinAbs(1.0, 1e-3));
  CHECK(analyse(logged_at_rate(10.0)).readings == 0);
}
