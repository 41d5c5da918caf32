#include "bothways/speed/moved_only.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"
#include "bothways/run/ride.hpp"
#include "bothways/speed/derive.hpp"
#include "lib/speed/rides.hpp"
#include "support/notes.hpp"
#include "support/real_logs.hpp"
#include "support/simulate/script.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>

using namespace bothways;
using Catch::Matchers::Contains;

namespace {

/// Only the fixes that lie this far from the last one kept.
Log by_distance(const Log& readings, double least_m) {
  Log log = readings;
  log.fixes.clear();
  for (const Fix& fix : readings.fixes) {
    if (!log.fixes.empty()) {
      const Fix& last = log.fixes.back();
      const PlanePoint at = LocalPlane({last.lat_deg, last.lon_deg}).to_plane({fix.lat_deg, fix.lon_deg});
      if (std::hypot(at.east_m, at.north_m) < least_m) {
        continue;
      }
    }
    log.fixes.push_back(fix);
  }
  return log;
}

Log positions_at_1hz(bool with_speed) {
  sim::ReceiverModel model;
  model.rate_hz = 1.0;
  model.coordinate_decimals = 5;
  model.with_speed = with_speed;
  return logged(model, 61);
}

/// Only the fixes more than so long before and after the vehicle is at rest, as reported.
Log without_rests(const Log& readings, double before_s, double after_s) {
  Log log = readings;
  log.fixes.clear();
  const auto rests = [](const Fix& fix) { return fix.speed_mps < 0.5; };
  for (auto fix = readings.fixes.begin(); fix != readings.fixes.end(); ++fix) {
    const auto next = std::find_if_not(fix, readings.fixes.end(), rests);
    auto last = fix;
    while (last != readings.fixes.begin() && rests(*last)) {
      --last;
    }
    const double to_go_s = next == readings.fixes.end() ? 1e3 : seconds_between(fix->time, next->time);
    const double stood_s = seconds_between(last->time, fix->time);
    if (!rests(*fix) || to_go_s < before_s || stood_s < after_s) {
      log.fixes.push_back(*fix);
    }
  }
  return log;
}

/// The log without its speeds.
Log placed_only(Log log) {
  for (Fix& fix : log.fixes) {
    fix.speed_mps = unknown;
  }
  return log;
}

/// Eight starts with minutes of riding between.
Log long_rides_at_1hz() {
  sim::Script script;
  for (int i = 0; i < 8; ++i) {
    sim::append(script, sim::one_way(20.0, 3000.0, 12.0));
  }
  sim::ReceiverModel model;
  model.rate_hz = 1.0;
  return sim::receive(sim::ride(sim::scooter(), {}, script), model, 62);
}

}  // namespace

TEST_CASE("of a log by distance no start is timed, and each is told with what to change", "[speed][run]") {
  for (const bool with_speed : {false, true}) {
    for (const double least_m : {2.0, 5.0, 10.0}) {
      CAPTURE(with_speed, least_m);
      const Ride ride = analyse(by_distance(positions_at_1hz(with_speed), least_m));
      CHECK(has_note(ride.notes, "moved-only"));
      CHECK(ride.runs.accepted.empty());
      const auto told =
          std::count_if(ride.runs.rejected.begin(), ride.runs.rejected.end(), [](const Rejected& r) {
            return r.code == "gap" && r.text.find("the recorder wrote ") != std::string::npos;
          });
      CHECK(told >= 5);   // of six; the first rest may lie before the log
      CHECK(told <= 12);  // turning round is a silence and a start too
    }
  }
}

TEST_CASE("a log by time is none by distance", "[speed]") {
  for (const bool with_speed : {false, true}) {
    CHECK_FALSE(speed_series(positions_at_1hz(with_speed)).moved_only);
    Log gaps = positions_at_1hz(with_speed);
    const Instant begin = gaps.fixes.front().time;
    const auto lost = [&](const Fix& fix) { return std::fmod(seconds_between(begin, fix.time), 40.0) < 8.0; };
    gaps.fixes.erase(std::remove_if(gaps.fixes.begin(), gaps.fixes.end(), lost), gaps.fixes.end());
    CHECK_FALSE(speed_series(gaps).moved_only);
  }
}

TEST_CASE("points far apart with silences in motion are lost fixes, not points by distance", "[speed]") {
  Log log = by_distance(positions_at_1hz(false), 5.0);
  for (int i = 0; i < 60; ++i) {  // on at 20 m/s, 4 s of each 10 s being lost
    Fix fix = log.fixes.back();
    fix.time = shifted(fix.time, i % 6 == 0 ? 4.0 : 1.0);
    fix.lat_deg += (i % 6 == 0 ? 80.0 : 20.0) / 111'000.0;
    log.fixes.push_back(fix);
  }
  CHECK_FALSE(speed_series(log).moved_only);
}

TEST_CASE("a recorder by time that is switched off while the vehicle stands writes rests", "[speed]") {
  const Log log = without_rests(long_rides_at_1hz(), 3.5, 0.0);
  REQUIRE(speed_series(log).stretches.size() >= 8);
  CHECK_FALSE(speed_series(log).moved_only);
  CHECK_FALSE(speed_series(placed_only(log)).moved_only);
  CHECK(analyse(log).runs.accepted.size() >= 6);  // of eight
}

TEST_CASE("a recorder by time that pauses while the vehicle stands leaves no start to time", "[speed][run]") {
  const Log log = without_rests(long_rides_at_1hz(), 0.0, 0.0);
  for (const bool with_speed : {false, true}) {
    CAPTURE(with_speed);
    const Ride ride = analyse(with_speed ? log : placed_only(log));
    CHECK(ride.runs.accepted.empty());
    REQUIRE(has_note(ride.notes, "moved-only"));
    const auto note = std::find_if(ride.notes.begin(), ride.notes.end(),
                                   [](const Note& n) { return n.code == "moved-only"; });
    CHECK_THAT(note->text, Contains("auto-pause") && Contains("by distance"));
  }
}
