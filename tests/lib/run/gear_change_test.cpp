#include "bothways/core/split_spec.hpp"
#include "bothways/core/units.hpp"
#include "bothways/run/detect.hpp"
#include "lib/run/rides.hpp"
#include "support/drawn_log.hpp"
#include "support/notes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// Four gears, changed by hand within a second; each gear pulls as its ratio allows.
sim::Vehicle old_car(double gap_s) {
  sim::Vehicle v;
  v.pull_N = 2600.0;
  v.power_W = 30'000.0;
  v.mass_kg = 900.0;
  v.effective_mass_kg = 980.0;
  v.drag_area_m2 = 0.7;
  v.launch = {{0.0, 0.0}, {0.4, 0.7}, {0.8, 1.0}};
  v.gear_changes = {{7.0, gap_s}, {12.5, gap_s}, {20.5, gap_s}};
  return v;
}

/// Two gears, changed by hand.
sim::Vehicle geared_moped(double gap_s) {
  sim::Vehicle v = sim::moped();
  v.drive = {{12.9, 1.0}, {14.5, 0.0}};
  v.gear_changes = {{5.5, gap_s}, {9.5, gap_s}};
  return v;
}

/// How many of four starts have a split, where each interval holds the truth to 1.5 half widths.
int timed_of_four(const sim::Vehicle& vehicle, double top_mph, const std::string& name, double rate_hz) {
  const sim::Truth truth = sim::ride(vehicle, {}, starts(4, top_mph, vehicle));
  sim::ReceiverModel model;
  model.rate_hz = rate_hz;
  const Runs runs = runs_of(sim::receive(truth, model, 71, ride_begin), name);
  int timed = 0;
  for (const Run& run : runs.accepted) {
    const Split* split = split_named(run, name);
    const sim::TrueStart* start = true_start_of(truth, run);
    REQUIRE(start != nullptr);
    if (split == nullptr) {
      continue;
    }
    const double true_s =
        sim::true_split_s(truth, *start, parse_splits(name).front(), Clock::rollout).value();
    INFO(name << " true " << true_s << ", found " << split->rollout.value << " sd " << split->rollout.sd);
    CHECK(std::abs(split->rollout.value - true_s) < 3.0 * split->rollout.sd);
    ++timed;
  }
  return timed;
}

/// From rest at 2 m/s^2, then at 1.2 m/s^2 to 18 m/s; in the pause so much is lost; then on to 24 m/s.
SpeedPoints paused(double pause_s, double loss_mps, double on_mps2) {
  const double low = 18.0 - loss_mps;
  return SpeedPoints{{0.0, 0.0}, {6.0, 0.0}} + SpeedPoints{{6.0, 12.0},    {5.0, 18.0},
                                                           {pause_s, low}, {(24.0 - low) / on_mps2, 24.0},
                                                           {8.0, 0.0},     {6.0, 0.0}};
}

/// Starts of a motorcycle, without any noise.
/// @param at_mps  of its two gear changes
Log noiseless(int count, double first_mps, double second_mps) {
  SpeedPoints points{{0.0, 0.0}};
  const auto gear = [&](double to_mps, double from_mps2, double to_mps2) {
    const double from_mps = points.back().second;
    constexpr int parts = 12;
    for (int i = 0; i < parts; ++i) {
      const double accel_mps2 = from_mps2 + (to_mps2 - from_mps2) * (i + 0.5) / parts;
      const double gained_mps = (to_mps - from_mps) / parts;
      points = points + SpeedPoints{{gained_mps / accel_mps2, points.back().second + gained_mps}};
    }
  };
  for (int i = 0; i < count; ++i) {
    points = points + SpeedPoints{{9.013, 0.0}, {0.35, 0.45}};
    gear(first_mps, 5.3, 5.1);
    points = points + SpeedPoints{{0.23, first_mps - 0.09}};
    gear(second_mps, 5.1, 5.0);
    points = points + SpeedPoints{{0.21, second_mps - 0.11}};
    gear(25.0, 3.4, 2.0);
    points = points + SpeedPoints{{9.0, 0.0}};
  }
  Log log = drawn_log(points, 25.0);
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    log.fixes[i].speed_mps = speed_at(points, static_cast<double>(i) / 25.0);
  }
  return log;
}

double top_of(const SpeedPoints& points) {
  const Starts starts = detect_starts(speed_series(drawn_log(points)));
  REQUIRE(starts.standing.size() == 1);
  return starts.standing.front().top_mps;
}

}  // namespace

TEST_CASE("each mark that a car or a moped reaches by changing gear by hand has its time", "[run]") {
  for (const double rate_hz : {1.0, 5.0, 10.0, 25.0}) {
    for (const double gap_s : {0.3, 0.7, 1.0, 1.2}) {
      CAPTURE(rate_hz, gap_s);
      CHECK(timed_of_four(old_car(gap_s), 60.0, "0-50 mph", rate_hz) == 4);
      CHECK(timed_of_four(geared_moped(gap_s), 31.0, "0-28 mph", rate_hz) == 4);
    }
  }
}

TEST_CASE("a mark far above a gear change of a noiseless log is crossed where the readings cross it",
          "[run]") {
  const Log log = noiseless(4, 13.7, 18.5);
  const Runs runs = runs_of(log, "0-30 mph, 0-50 mph, 30-50 mph");
  REQUIRE(runs.accepted.size() == 4);
  for (const Run& run : runs.accepted) {
    const auto passed_s = [&](double level_mps) {
      const auto at = std::find_if(log.fixes.begin(), log.fixes.end(), [&](const Fix& fix) {
        return fix.time > run.clock_start && fix.speed_mps >= level_mps;
      });
      return seconds_between(run.clock_start, at->time);
    };
    constexpr double within_s = 0.15;  // one row, and the smoothing that the log does not rule out
    const Split* to_50 = split_named(run, "0-50 mph");
    REQUIRE(to_50 != nullptr);
    CHECK_THAT(to_50->rollout.value, WithinAbs(passed_s(50.0 * mps_per_mph), within_s));
    CHECK(to_50->rollout.lo95 > passed_s(19.0));  // beyond both changes
    const Split* from_30 = split_named(run, "30-50 mph");
    REQUIRE(from_30 != nullptr);
    CHECK_THAT(from_30->rollout.value,
               WithinAbs(passed_s(50.0 * mps_per_mph) - passed_s(30.0 * mps_per_mph), within_s));
  }
}

TEST_CASE("after a gear change a run goes on, after a lift it does not", "[run]") {
  CHECK_THAT(top_of(paused(1.0, 0.5, 0.7)), WithinAbs(24.0, 0.3));
  CHECK_THAT(top_of(paused(1.2, 0.6, 0.6)), WithinAbs(24.0, 0.3));
  CHECK_THAT(top_of(paused(1.0, 0.0, 1.0)), WithinAbs(24.0, 0.3));
  CHECK_THAT(top_of(paused(3.0, 0.5, 0.7)), WithinAbs(18.0, 0.3));  // too long for a gear change
  CHECK_THAT(top_of(paused(1.0, 0.5, 0.3)), WithinAbs(18.0, 0.3));  // riding on
  CHECK_THAT(top_of(paused(1.4, 0.6, 2.5)), WithinAbs(18.0, 0.3));  // the throttle was not open before
  CHECK_THAT(top_of(paused(1.0, 1.5, 0.7)), WithinAbs(18.0, 0.3));  // braked
}

TEST_CASE("a run that ends where the speed stood still says so if the vehicle got faster later", "[run]") {
  const auto notes_of = [](const SpeedPoints& points) {
    const Runs runs = find_runs(speed_series(drawn_log(points)), {parse_splits("0-30 mph, 0-50 mph")});
    REQUIRE(runs.accepted.size() == 1);
    return runs.accepted.front().notes;
  };
  const std::vector<Note> later = notes_of(paused(3.0, 0.5, 0.7));
  REQUIRE(has_note(later, "ends-early"));
  CHECK(later.front().text ==
        "It ends at 40 mph, where the speed fell or stood still: 0-50 mph has no time, "
        "though the vehicle went on to 53 mph.");
  CHECK(notes_of(paused(1.0, 0.5, 0.7)).empty());
  const SpeedPoints let_off{{0.0, 0.0}, {6.0, 0.0}, {14.0, 18.0}, {20.0, 0.0}, {26.0, 0.0}};
  CHECK(notes_of(let_off).empty());
  Log log = drawn_log(paused(1.0, 0.5, 0.7));
  std::erase_if(log.fixes, [&](const Fix& fix) {
    const double t_s = seconds_between(log.fixes.front().time, fix.time);
    return t_s > 15.0 && t_s < 20.0;
  });
  const Runs cut = find_runs(speed_series(log), {parse_splits("0-30 mph, 0-50 mph")});
  REQUIRE(cut.accepted.size() == 1);
  REQUIRE(has_note(cut.accepted.front().notes, "ends-early"));
  CHECK(cut.accepted.front().notes.front().text ==
        "It ends at 35 mph, where the log stops or has a gap: 0-50 mph has no time.");
}
