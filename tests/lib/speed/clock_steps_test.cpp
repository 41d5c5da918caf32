#include "bothways/speed/clock_steps.hpp"

#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "lib/run/rides.hpp"
#include "support/drawn_log.hpp"
#include "support/notes.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <numbers>
#include <vector>

using namespace bothways;

namespace {

/// A log whose stamps from a time of the ride on are so much later.
Log stepped(Log log, double at_s, double step_s) {
  for (Fix& fix : log.fixes) {
    if (seconds_between(ride_begin, fix.time) > at_s) {
      fix.time = shifted(fix.time, step_s);
    }
  }
  return log;
}

}  // namespace

TEST_CASE("no run is timed across a step of the clock in motion, and a note says so", "[speed]") {
  const FourStarts& ride = four_starts();
  const double in_second_run_s = ride.truth.starts.at(1).movement_s + 2.0;
  for (const double step_s : {0.4, 1.0}) {
    CAPTURE(step_s);
    const SpeedSeries series = speed_series(stepped(ride.log, in_second_run_s, step_s));
    CHECK(has_note(series.notes, "clock-steps"));
    const Runs runs = runs_of(stepped(ride.log, in_second_run_s, step_s), "0-30 mph, 0-50 mph");
    CHECK(runs.accepted.size() == 3);
    CHECK(std::any_of(runs.rejected.begin(), runs.rejected.end(),
                      [](const auto& start) { return start.code == "gap"; }));
  }
}

TEST_CASE("stamps that jitter, lost fixes and steps at rest are no steps of the clock", "[speed]") {
  const FourStarts& ride = four_starts();
  CHECK_FALSE(has_note(speed_series(ride.log).notes, "clock-steps"));
  const double second_s = ride.truth.starts.at(1).movement_s;
  CHECK_FALSE(has_note(speed_series(stepped(ride.log, second_s - 5.0, 1.0)).notes, "clock-steps"));
  CHECK_FALSE(has_note(speed_series(without(ride.log, second_s + 3.0, second_s + 4.0)).notes, "clock-steps"));
  Log late_by_turns = ride.log;
  for (std::size_t i = 0; i < late_by_turns.fixes.size(); i += 7) {
    late_by_turns.fixes[i].time = shifted(late_by_turns.fixes[i].time, 0.09);
  }
  CHECK_FALSE(has_note(speed_series(late_by_turns).notes, "clock-steps"));
}

TEST_CASE("without places the clock cannot be seen to step", "[speed]") {
  Log log = four_starts().log;
  for (Fix& fix : log.fixes) {
    fix.lat_deg = fix.lon_deg = unknown;
  }
  CHECK_FALSE(
      has_note(speed_series(stepped(log, four_starts().truth.starts.at(1).movement_s + 2.0, 1.0)).notes,
               "clock-steps"));
}

TEST_CASE("fixes lost where the vehicle brakes and turns round at walking pace are no steps of the clock",
          "[speed]") {
  // To the north, round to the left within 8 s at 4 m/s, and back; at 5 fixes a second, lost for 3 s.
  constexpr double m_per_deg = 111'000.0;
  Log log = drawn_log(
      SpeedPoints{{0.0, 0.0}, {10.0, 0.0}} +
          SpeedPoints{{5.0, 15.0}, {5.0, 15.0}, {4.0, 4.0}, {8.0, 4.0}, {4.0, 12.0}, {6.0, 0.0}, {10.0, 0.0}},
      5.0);
  double east_m = 0.0;
  double north_m = 0.0;
  for (Fix& fix : log.fixes) {
    const double t_s = seconds_between(log.fixes.front().time, fix.time);
    const double turned = std::numbers::pi * std::clamp((t_s - 24.0) / 8.0, 0.0, 1.0);
    east_m -= 0.2 * fix.speed_mps * std::sin(turned);
    north_m += 0.2 * fix.speed_mps * std::cos(turned);
    fix.lat_deg = north_m / m_per_deg;
    fix.lon_deg = 20.0 + east_m / m_per_deg;
  }
  for (double from_s = 22.0; from_s < 36.0; from_s += 0.5) {
    CAPTURE(from_s);
    Log lost = log;
    std::erase_if(lost.fixes, [&](const Fix& fix) {
      const double t_s = seconds_between(log.fixes.front().time, fix.time);
      return t_s > from_s && t_s < from_s + 3.0;
    });
    CHECK_FALSE(has_note(speed_series(lost).notes, "clock-steps"));
  }
}
