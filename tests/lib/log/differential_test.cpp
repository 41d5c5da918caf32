// One ride in every format: the fixes, the runs and their times must be the same, and a cut must not change
// what came before.
#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"
#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "support/simulate/write.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <string>
#include <utility>
#include <vector>

using namespace bothways;
using Catch::WithinAbs;

namespace {

/// A simulated ride of runs, aborted and rolling starts, at 10 Hz.
Log town_ride() {
  return read_log(
      (std::filesystem::path(BOTHWAYS_SOURCE_DIR) / "fixtures" / "town-scooter" / "ride.nmea").string());
}

/// All formats, each with more digits than the ride has: what differs afterwards is a reader's doing.
std::vector<std::pair<std::string, std::string>> written(const Log& log) {
  return {
      {"gpx", sim::to_gpx(log, "ride", {.degree_decimals = 9, .speed_decimals = 8})},
      {"gpx 1.0", sim::to_gpx(log, "ride",
                              {.speed = sim::GpxSpeed::element, .degree_decimals = 9, .speed_decimals = 8})},
      {"nmea", sim::to_nmea(log, {.knot_decimals = 8, .minute_decimals = 8})},
      {"csv", sim::to_csv(log, 8)},
      {"tcx", sim::to_tcx(log)},
      {"kml", sim::to_kml(log)}};
}

Runs runs_of(const Log& log) {
  return find_runs(speed_series(log), {.splits = parse_splits("0-20 mph, 0-30 mph, 60 ft")});
}

double apart_s(Instant a, Instant b) {
  return std::abs(seconds_between(a, b));
}

}  // namespace

TEST_CASE("a ride written in any format gives the same fixes", "[log]") {
  const Log log = town_ride();
  for (const auto& [format, bytes] : written(log)) {
    CAPTURE(format);
    const Log again = sim::read_back(bytes);
    REQUIRE(again.fixes.size() == log.fixes.size());
    CHECK(std::all_of(again.notes.begin(), again.notes.end(),
                      [](const Note& note) { return note.code == "long-sentence"; }));  // so many decimals
    bool same = true;
    for (std::size_t i = 0; i < log.fixes.size(); ++i) {
      const Fix& a = log.fixes[i];
      const Fix& b = again.fixes[i];
      // Speeds have 8 decimals of m/s or knots; places 7 decimals of a degree at least (CSV).
      same = same && a.time == b.time && std::abs(a.speed_mps - b.speed_mps) < 1e-7 &&
             std::abs(a.lat_deg - b.lat_deg) < 1e-7 && std::abs(a.lon_deg - b.lon_deg) < 1e-7;
    }
    CHECK(same);
  }
}

TEST_CASE("a ride written in any format gives the same runs", "[log]") {
  const Log log = town_ride();
  const Runs runs = runs_of(log);
  REQUIRE(runs.accepted.size() >= 4);
  for (const auto& [format, bytes] : written(log)) {
    CAPTURE(format);
    const Runs again = runs_of(sim::read_back(bytes));
    REQUIRE(again.accepted.size() == runs.accepted.size());
    REQUIRE(again.rejected.size() == runs.rejected.size());
    for (std::size_t i = 0; i < runs.rejected.size(); ++i) {
      CHECK(again.rejected[i].code == runs.rejected[i].code);
    }
    for (std::size_t i = 0; i < runs.accepted.size(); ++i) {
      const Run& a = runs.accepted[i];
      const Run& b = again.accepted[i];
      // A hundredth of what is printed, ms: readings differ by 1e-7 m/s, which no threshold lies on.
      CHECK(apart_s(a.movement, b.movement) < 5e-5);
      REQUIRE(a.splits.size() == b.splits.size());
      for (std::size_t k = 0; k < a.splits.size(); ++k) {
        CHECK_THAT(b.splits[k].rollout.value, WithinAbs(a.splits[k].rollout.value, 1e-5));
        CHECK_THAT(b.splits[k].rollout.sd, WithinAbs(a.splits[k].rollout.sd, 1e-5));
      }
    }
  }
}

TEST_CASE("a log that is cut off keeps the runs before the cut", "[log]") {
  const Log log = town_ride();
  const Runs whole = runs_of(log);
  for (const auto& [format, bytes] : written(log)) {
    if (format == "kml") {
      continue;  // places come after all times: a cut loses them all
    }
    for (const double share : {0.55, 0.7, 0.83, 0.97}) {
      CAPTURE(format, share);
      const Log part = sim::read_back(
          bytes.substr(0, static_cast<std::size_t>(share * static_cast<double>(bytes.size()))));
      const Runs before = runs_of(part);
      const Instant end = part.fixes.back().time;
      for (const Run& run : whole.accepted) {
        if (apart_s(run.movement, log.fixes.front().time) > apart_s(end, log.fixes.front().time) - 60.0) {
          continue;  // the run may not be over
        }
        const auto same = std::find_if(before.accepted.begin(), before.accepted.end(), [&](const Run& one) {
          return apart_s(one.movement, run.movement) < 0.2;
        });
        REQUIRE(same != before.accepted.end());
        REQUIRE(same->splits.size() == run.splits.size());
        for (std::size_t k = 0; k < run.splits.size(); ++k) {
          // The receiver's noise is estimated from fewer stops, so not to the bit.
          CHECK_THAT(same->splits[k].rollout.value,
                     WithinAbs(run.splits[k].rollout.value, 0.5 * run.splits[k].rollout.sd));
        }
      }
    }
  }
}
