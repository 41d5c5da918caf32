#include "bothways/run/same_ride.hpp"

#include "lib/run/rides.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>

using namespace bothways;

namespace {

Log named(Log log, const std::string& path) {
  log.path = path;
  return log;
}

/// The fixes from one time of the ride to another, s.
Log part_of(Log log, double from_s, double to_s) {
  std::erase_if(log.fixes, [&](const Fix& fix) {
    const double t_s = seconds_between(ride_begin, fix.time);
    return t_s < from_s || t_s > to_s;
  });
  return log;
}

Log moved_north(Log log, double deg) {
  for (Fix& fix : log.fixes) {
    fix.lat_deg += deg;
  }
  return log;
}

Trace trace(const Log& log) {
  return trace_of(log, speed_series(log).source);
}

bool are_one(const Log& a, const Log& b) {
  const std::vector<Trace> both{trace(a), trace(b)};
  const std::vector<Trace> turned{both[1], both[0]};
  const bool same = !same_rides(both).empty();
  CHECK(same == !same_rides(turned).empty());
  return same;
}

/// A phone on the same ride: once a second, positions only, its clock a second late.
Log phone() {
  sim::ReceiverModel model;
  model.rate_hz = 1.0;
  model.with_speed = false;
  Log log = sim::receive(four_starts().truth, model, 77);
  for (Fix& fix : log.fixes) {
    fix.time = shifted(fix.time, 1.0);
  }
  return named(log, "a phone.gpx");
}

std::vector<Instant> movements(const std::vector<Ride>& rides) {
  std::vector<Instant> all;
  for (const Ride& ride : rides) {
    for (const Run& run : ride.runs.accepted) {
      all.push_back(run.movement);
    }
  }
  std::sort(all.begin(), all.end());
  return all;
}

}  // namespace

TEST_CASE("logs of one ride are found, and no others", "[run]") {
  const Log log = named(four_starts().log, "logger.nmea");
  const double whole_s = seconds_between(ride_begin, log.fixes.back().time);
  CHECK(are_one(log, named(log, "copy.csv")));
  CHECK(are_one(log, phone()));
  CHECK(are_one(log, named(part_of(log, 30.0, 60.0), "part.csv")));
  CHECK_FALSE(are_one(part_of(log, 0.0, 0.4 * whole_s), part_of(log, 0.4 * whole_s, whole_s)));
  // A third of the shorter in common is not enough.
  CHECK_FALSE(are_one(part_of(log, 0.0, 0.5 * whole_s), part_of(log, 0.33 * whole_s, whole_s)));
  CHECK_FALSE(are_one(log, moved_north(log, 0.001)));  // 111 m
  Log other_day = log;
  for (Fix& fix : other_day.fixes) {
    fix.time = shifted(fix.time, 86400.0);
  }
  CHECK_FALSE(are_one(log, other_day));
}

TEST_CASE("two vehicles that wait at one place and ride in turn are two rides", "[run]") {
  const Log log = named(four_starts().log, "one.nmea");
  Log waiting = named(log, "other.nmea");
  for (Fix& fix : waiting.fixes) {
    fix.lat_deg = log.fixes.front().lat_deg;
    fix.lon_deg = log.fixes.front().lon_deg;
    fix.speed_mps = 0.0;
  }
  CHECK_FALSE(are_one(log, waiting));
}

TEST_CASE("without a date logs are of one ride only if they say the same", "[run]") {
  Log log = named(four_starts().log, "one.nmea");
  log.dated = false;
  CHECK(are_one(log, named(log, "copy.nmea")));
  CHECK_FALSE(are_one(log, moved_north(log, 0.0001)));  // 11 m
  Log dated = log;
  dated.dated = true;
  CHECK_FALSE(are_one(log, dated));
}

TEST_CASE("without positions logs of one time are of one ride", "[run]") {
  Log log = named(four_starts().log, "one.csv");
  for (Fix& fix : log.fixes) {
    fix.lat_deg = fix.lon_deg = unknown;
  }
  CHECK(are_one(log, named(log, "two.csv")));
  CHECK(are_one(log, four_starts().log));
}

TEST_CASE("a second log of a ride changes no figure", "[run]") {
  Log log = named(four_starts().log, "logger.nmea");
  log.format = LogFormat::nmea;
  Log exported = named(log, "a copy.csv");
  exported.format = LogFormat::csv;
  Log partial = named(part_of(log, 0.0, 60.0), "a part.nmea");
  const Ride alone = analyse(log);
  REQUIRE(alone.runs.accepted.size() == 4);
  std::vector<Ride> rides{alone, analyse(exported), analyse(partial), analyse(phone())};
  for (const Ride& ride : rides) {
    REQUIRE_FALSE(ride.runs.accepted.empty());
  }
  std::sort(rides.begin(), rides.end(), [](const Ride& a, const Ride& b) { return a.path < b.path; });
  do {
    std::vector<Ride> left = rides;
    leave_out_same_rides(left);
    for (const Ride& ride : left) {
      CAPTURE(ride.path);
      const auto told = std::count_if(ride.notes.begin(), ride.notes.end(),
                                      [](const Note& note) { return note.code == "same-ride"; });
      if (ride.path != log.path) {
        CHECK(ride.runs.accepted.empty());
        CHECK(told == 1);
        continue;
      }
      CHECK(told == 0);
      REQUIRE(ride.runs.accepted.size() == 4);
      CHECK(ride.runs.accepted[0].splits[0].rollout.value == alone.runs.accepted[0].splits[0].rollout.value);
    }
  } while (std::next_permutation(rides.begin(), rides.end(),
                                 [](const Ride& a, const Ride& b) { return a.path < b.path; }));
}

TEST_CASE("what the better log missed is taken from the other", "[run]") {
  const Log whole = phone();
  const Log log = named(four_starts().log, "logger.nmea");
  const std::vector<Instant> starts = movements({analyse(log)});
  REQUIRE(starts.size() == 4);
  // The logger was switched on between the second run and the third.
  const double on_s = seconds_between(ride_begin, starts[2]) - 8.0;
  std::vector<Ride> rides{analyse(whole), analyse(named(part_of(log, on_s, 1e6), log.path))};
  leave_out_same_rides(rides);
  CHECK(rides[0].runs.accepted.size() == 2);
  CHECK(rides[1].runs.accepted.size() == 2);
  const std::vector<Instant> left = movements(rides);
  for (std::size_t i = 0; i < left.size(); ++i) {
    CHECK(std::abs(seconds_between(starts[i], left[i])) < 3.0);
  }
}
