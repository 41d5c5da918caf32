#include "bothways/report/summary.hpp"

#include "bothways/report/escape.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;
using Catch::Matchers::Contains;

namespace {

std::string summary(const Result& result, const SummaryOptions& options = {}) {
  std::ostringstream out;
  write_summary(out, result, options);
  return out.str();
}

}  // namespace

TEST_CASE("the text says what was read, timed, left out, paired, and by which clock", "[report]") {
  const std::string text = summary(sample_result());
  CAPTURE(text);
  CHECK(text.find("Result, both ways") == 0);
  CHECK_THAT(text, Contains("ride.gpx: GPX, 24000 fixes, 10 a second; speed as the receiver reported it"));
  CHECK_THAT(text, Contains("time after the first foot (0.30 m) of travel"));
  CHECK_THAT(text, Contains("E 87°"));
  CHECK_THAT(text, Contains("No run reached the end of: 0-50 mph."));
  CHECK_THAT(text, Contains("5.12 ± 0.03"));
  CHECK_THAT(text, Contains("09:26:00 at 0.00500, 0.01000: it was still rolling at 8 mph"));
  CHECK_THAT(text, Contains("0-30 mph  5.088 ± 0.021         5.053      1\n"));
  CHECK_THAT(text, Contains("Run 3 stands alone: no run in the opposite direction was found"));
  CHECK_THAT(text, Contains("ride.gpx, line 12: a line was no fix"));
}

TEST_CASE("no line is wider than 80 columns and no control character gets through", "[report]") {
  Result result = sample_result();
  result.rides[0].path = "/home/rider/" + std::string(120, 'y') + "\x1b]0;title\x07/ride.gpx";
  for (const bool explain : {false, true}) {
    std::istringstream lines(summary(result, {.explain = explain}));
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      CHECK(display_width(line) <= 80);
      CHECK(escaped(line) == line);
    }
  }
}

TEST_CASE("many starts left out for one reason are told in one line, all of them with --explain",
          "[report]") {
  Result result = sample_result();
  auto& rejected = result.rides[0].runs.rejected;
  for (int i = 0; i < 20; ++i) {
    rejected.push_back({shifted(rejected[1].time, 10 + i), {}, "gentle", "a gentle start"});
  }
  CHECK_THAT(summary(result), Contains("20 starts, 09:38:30 to 09:38:49, the first"));
  CHECK_THAT(summary(result, {.explain = true}), Contains("09:38:49 at"));
}

TEST_CASE("starts left out with figures that differ are told with their range", "[report]") {
  Result result = sample_result();
  auto& rejected = result.rides[0].runs.rejected;
  const LatLon nowhere{unknown, unknown};
  for (const char* share : {"40", "9.5", "63", "30", "62"}) {
    const double after_s = 10.0 + static_cast<double>(rejected.size());
    rejected.push_back({shifted(rejected[1].time, after_s), nowhere, "gentle",
                        std::string("accelerated ") + share + " % as hard; 75 % is needed"});
  }
  for (const char* top : {"16", "17"}) {
    rejected.push_back({rejected.back().time, nowhere, "gentle", std::string("only to ") + top + " mph"});
  }
  const std::string text = summary(result);
  CAPTURE(text);
  CHECK_THAT(text, Contains("5 starts, "));
  CHECK_THAT(text, Contains(", the first: accelerated 9.5 to 63 % as hard"));

  CHECK_THAT(text, Contains(": only to 16 mph"));
  CHECK_THAT(text, Contains(": only to 17 mph"));
}

TEST_CASE("two set-ups in one result are told, one or none is not", "[report]") {
  Result result = sample_result();
  REQUIRE(result.rides.size() == 2);
  CHECK(mixed_setups_words(result).empty());
  for (Ride& ride : result.rides) {
    ride.conditions.emplace().setup = "as bought";
  }
  CHECK(mixed_setups_words(result).empty());
  result.rides[1].conditions->setup = "new clutch springs";
  const std::string words =
      "two set-ups are in here (as bought; new clutch springs): the overall result mixes them; use bothways "
      "compare";
  CHECK(mixed_setups_words(result) == words);
  CHECK_THAT(summary(result), Contains("Take care: two set-ups are in here"));
  result.rides[1].runs.accepted.clear();  // a ride without a run mixes nothing
  CHECK(mixed_setups_words(result).empty());
}

TEST_CASE("quiet leaves the notes out and explain adds the receiver and the rules", "[report]") {
  CHECK_THAT(summary(sample_result(), {.quiet = true}), !Contains("was no fix"));
  const std::string text = summary(sample_result(), {.explain = true});
  CHECK_THAT(text, Contains("Speed noise found in this log"));
  CHECK_THAT(text, Contains("How starts are judged"));
  CHECK_THAT(text, Contains("from first movement"));
}

TEST_CASE("a log of unknown day shows no 1970", "[report]") {
  Result result = sample_result();
  for (Ride& ride : result.rides) {
    ride.dated = false;
    ride.first.unix_us %= 86'400'000'000;
    ride.last.unix_us %= 86'400'000'000;
    for (Run& run : ride.runs.accepted) {
      run.movement.unix_us %= 86'400'000'000;
    }
  }
  CHECK_THAT(summary(result), !Contains("1970"));
}

TEST_CASE("a result with nothing in it is told without a figure", "[report]") {
  Result result;
  result.rides = {{.path = "walk.gpx", .fixes = 5}};
  result.rides[0].receiver.rate_hz = nan_value;
  CHECK_THAT(summary(result), Contains("No runs"));
  CHECK_THAT(summary(result), !Contains("nan"));
}

TEST_CASE("many logs are told in a table, and their left-out starts by reason", "[report]") {
  Result result = sample_result();
  for (int i = 0; i < 9; ++i) {
    Ride ride = result.rides[0];
    ride.path = "folder/" + std::string(60, 'x') + std::to_string(i) + ".gpx";
    ride.runs.accepted.clear();
    result.rides.push_back(ride);
  }
  const std::string text = summary(result);
  CAPTURE(text);
  CHECK_THAT(text, Contains("11 logs\n"));
  CHECK_THAT(text, Contains("10 starts, the first: ride.gpx at 09:26:00: it was still rolling at 8 mph"));
  CHECK_THAT(text, Contains("--explain lists each of them."));
  CHECK_THAT(summary(result, {.explain = true}), !Contains("--explain lists each"));
  for (std::istringstream lines(text); lines;) {
    std::string line;
    std::getline(lines, line);
    CHECK(display_width(line) <= 80);
  }
}

TEST_CASE("many runs that stand alone for one reason are told once", "[report]") {
  Result result = sample_result();
  result.pairs.single.assign(5, {1, 3, "no-opposite", "no run came back"});
  CHECK_THAT(summary(result), Contains("Runs 3, 3, 3, 3 and 3 stand alone; the first: no run came back"));
}

TEST_CASE("explain says that kind or mass tells more of the wind, where it is not known", "[report]") {
  Result result = sample_result();
  const char* hint = "where conditions.ini says what was ridden";
  CHECK_THAT(summary(result, {.explain = true, .width = 200}), Contains(hint));
  CHECK_THAT(summary(result, {.width = 200}), !Contains(hint));
  for (Ride& ride : result.rides) {
    ride.conditions = Conditions{.total_mass_kg = 180.0};
  }
  CHECK_THAT(summary(result, {.explain = true, .width = 200}), !Contains(hint));
}
