// Local time beside UTC, and one system of units.
#include "cli/zone.hpp"

#include "cli/support.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;
using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

/// Runs the program with a TZ variable.
std::string out_with(const std::vector<std::string>& arguments, const std::string& zone) {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  (void)run(arguments, {.in = in, .out = out, .err = err, .time_zone = zone});
  return out.str();
}

}  // namespace

TEST_CASE("a zone knows summer and winter, and takes the first of an hour that comes twice", "[cli]") {
  const Zone berlin("Europe/Berlin");
  CHECK(berlin.local(at_utc("2026-05-04T09:30:00Z")) == at_utc("2026-05-04T11:30:00Z"));
  CHECK(berlin.local(at_utc("2026-01-04T09:30:00Z")) == at_utc("2026-01-04T10:30:00Z"));
  CHECK(berlin.utc(at_utc("2026-10-25T02:30:00Z")) == at_utc("2026-10-25T00:30:00Z"));
  CHECK(berlin.utc(at_utc("2026-03-29T02:30:00Z")) == at_utc("2026-03-29T01:00:00Z"));
  CHECK(Zone("UTC").is_utc());
}

TEST_CASE("text tells local time beside UTC where a zone is known", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::string named = call({demo_log, "--time-zone", "Europe/Berlin"}).out;
  CHECK_THAT(named,
             Contains("start UTC") && Contains("local") && Contains("09:31:56") && Contains("11:31:56"));
  CHECK_THAT(one_line(named), Contains("(11:30:00 to 11:39:25 in Europe/Berlin)"));
  CHECK(out_with({demo_log}, ":Europe/Berlin") == named);
  CHECK(out_with({demo_log}, "/usr/share/zoneinfo/Europe/Berlin") == named);
  CHECK(out_with({demo_log}, "no such zone") == call({demo_log}).out);
  CHECK(out_with({demo_log}, "UTC") == call({demo_log}).out);
}

TEST_CASE("files are the same in every zone", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const char* format : {"csv", "json"}) {
    CHECK(out_with({demo_log, "--format", format}, "America/Denver") ==
          call({demo_log, "--format", format}).out);
  }
}

TEST_CASE("a log without a date keeps its own clock", "[cli]") {
  const TemporaryFolder folder;
  const std::string log =
      folder.file("a.csv", "time,speed_kmh\n09:30:00,0\n09:30:01,0\n09:30:02,5\n09:30:03,9\n");
  CHECK_THAT(call({"trip", log, "--time-zone", "Europe/Berlin"}).out, !Contains("11:30"));
}

TEST_CASE("all figures of a text are of the system asked for", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const auto& words : {std::vector<std::string>{"fixtures/before-after/before", "fixtures/demo"},
                            {"compare", "fixtures/before-after/before", "fixtures/before-after/after"},
                            {"power", "fixtures/before-after/before"}}) {
    CAPTURE(words.front());
    auto metric = words;
    metric.insert(metric.end(), {"--units", "kmh"});
    auto us = words;
    us.insert(us.end(), {"--units", "mph"});
    const std::string in_metric = one_line(call(metric).out);
    const std::string in_us = one_line(call(us).out);
    for (const char* unit : {" mph", " lb", " °F", " inHg", "ft/s²"}) {
      CAPTURE(unit);
      CHECK_THAT(in_metric, !Contains(unit));
    }
    for (const char* unit : {" km/h", " kg", " °C", " hPa", " m/s²"}) {
      CAPTURE(unit);
      CHECK_THAT(in_us, !Contains(unit));
    }
  }
}

TEST_CASE("the highest speed that is told is one that the vehicle could have had", "[cli]") {
  const TemporaryFolder folder;
  std::string text = "time_unix_s,speed_mps\n";
  for (int i = 0; i < 300; ++i) {  // a walk with a wild reading, and wild ones in a row
    const bool wild = i == 100 || (i >= 200 && i < 203);
    text += std::to_string(1777887000 + i) + "," + (wild ? "150.0" : i % 2 == 0 ? "1.2" : "1.4") + "\n";
  }
  const Outcome outcome = call({folder.file("walk.csv", text)});
  CHECK(outcome.code == Exit::nothing_found);
  CHECK_THAT(one_line(outcome.err), Contains("the highest speed in the log is 3.") ||
                                        Contains("the highest speed in the log is 2."));
}
