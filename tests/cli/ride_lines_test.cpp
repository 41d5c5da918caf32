#include "bothways/report/ride_lines.hpp"

#include "bothways/core/error.hpp"
#include "bothways/log/read.hpp"
#include "cli/page_support.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <limits>
#include <sstream>
#include <string>
#include <vector>

using namespace bothways;
using bothways::cli::Exit;
using Catch::Matchers::Contains;

namespace {

const std::string splits = "0-30 mph, 0-50 mph, 30-50 mph, 60 ft";

/// Logs of four fixtures, three with several runs, one of positions alone.
const std::vector<std::string> logs{"fixtures/two-logs/1-out.nmea", "fixtures/two-logs/2-back.nmea",
                                    "fixtures/demo/mill-lane.nmea.gz", "fixtures/positions-5hz/ride.gpx"};

/// The lines of each log, timed by itself; the last log first.
std::string lines() {
  std::string all;
  for (auto log = logs.rbegin(); log != logs.rend(); ++log) {
    const Outcome timed = call({"runs", *log, "--format", "jsonl", "--rides", "--splits", splits});
    REQUIRE(timed.code == Exit::ok);
    CHECK(std::count(timed.out.begin(), timed.out.end(), '\n') == 1);
    all += timed.out;
  }
  return all;
}

std::vector<std::string> with(std::vector<std::string> arguments, const std::vector<std::string>& more) {
  arguments.insert(arguments.end(), more.begin(), more.end());
  return arguments;
}

}  // namespace

TEST_CASE("rides carried as lines give what the logs give", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string file = folder.file("rides.jsonl", lines());
  std::vector<std::string> sorted = logs;
  std::sort(sorted.begin(), sorted.end());
  for (const char* command : {"pairs", ""}) {
    for (const char* format : {"text", "csv", "json", "jsonl"}) {
      CAPTURE(command, format);
      std::vector<std::string> call_with;
      if (*command != '\0') {
        call_with.emplace_back(command);
      }
      call_with = with(call_with, {"--format", format});
      const Outcome whole = call(with(with(call_with, {"--splits", splits}), sorted));
      const Outcome merged = call(with(call_with, {"--from-jsonl", file}));
      CHECK(merged.out == whole.out);
      CHECK(merged.err == whole.err);
      CHECK(merged.code == whole.code);
      const Outcome piped = call(with(call_with, {"--from-jsonl", "-"}), bytes_of(file));
      CHECK(piped.out == whole.out);
    }
  }
}

TEST_CASE("sides and set-ups carried as lines compare as their logs do", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const auto carried = [&folder](const std::string& name, const std::string& path) {
    const Outcome timed = call({"runs", path, "--format", "jsonl", "--rides", "--splits", splits});
    REQUIRE(timed.code == Exit::ok);
    return folder.file(name, timed.out);
  };
  const std::string before = carried("before.jsonl", "fixtures/before-after/before/ride.nmea.gz");
  const std::string after = carried("after.jsonl", "fixtures/before-after/after/ride.nmea.gz");
  const std::string turns = carried("turns.jsonl", "fixtures/in-turns/ride.nmea.gz");
  CHECK(count(bytes_of(turns), "\n") == 4);  // a line for each part
  const std::string all = folder.file("all.jsonl", bytes_of(after) + bytes_of(before));
  const std::vector<std::string> logs_of_both{"fixtures/before-after/after/ride.nmea.gz",
                                              "fixtures/before-after/before/ride.nmea.gz"};
  struct Case {
    std::vector<std::string> whole;
    std::vector<std::string> merged;
  };
  const std::vector<Case> cases{
      {with({"compare"}, {logs_of_both[1], logs_of_both[0]}), {"compare", before, after}},
      {with({"compare", "--before"}, {logs_of_both[1], "--after", logs_of_both[0]}),
       {"compare", "--before", before, "--after", after}},
      {{"compare", "--side", "old=" + logs_of_both[1], "--side", "new=" + logs_of_both[0], "--main", "60 ft"},
       {"compare", "--side", "old=" + before, "--side", "new=" + after, "--main", "60 ft"}},
      {{"compare", "fixtures/in-turns/ride.nmea.gz", "--clock", "movement"},
       {"compare", turns, "--clock", "movement"}},
      {with({"compare", logs_of_both[0], logs_of_both[1]}, {"fixtures/in-turns/ride.nmea.gz"}),
       {"compare", all, turns, turns}},
      {with({"logbook"}, with(logs_of_both, {"fixtures/in-turns/ride.nmea.gz"})), {"logbook", turns, all}},
  };
  for (const Case& one : cases) {
    const bool is_logbook = one.whole[0] == "logbook";
    for (const std::string format : {"text", "csv", "json", "jsonl", "page"}) {
      if (format == "page" && !(is_logbook && has_charts())) {
        continue;
      }
      const std::vector<std::string> how = format == "page" ? std::vector<std::string>{"--page"}
                                                            : std::vector<std::string>{"--format", format};
      CAPTURE(one.merged, how);
      const Outcome whole = call(with(with(one.whole, how), {"--splits", splits}));
      const Outcome merged = call(with(with(one.merged, how), {"--from-jsonl"}));
      CHECK(whole.code == Exit::ok);
      CHECK(merged.out == whole.out);
      CHECK(merged.code == whole.code);
    }
  }
}

TEST_CASE("a ride on two sides is refused in lines too, and so are parts and a split that was not timed",
          "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string line =
      call({"runs", logs[2], "--format", "jsonl", "--rides", "--splits", "0-30 mph"}).out;
  const std::string one = folder.file("one.jsonl", line);
  const std::string other = folder.file("other.jsonl", line);
  const Outcome twice = call({"compare", "--from-jsonl", one, other});
  CHECK(twice.code == Exit::usage);
  CHECK_THAT(one_line(twice.err), Contains("mill-lane.nmea.gz is on two sides, before and after"));
  const Outcome part = call({"compare", "--from-jsonl", one + "@10:30-11:10", other});
  CHECK(part.code == Exit::usage);
  CHECK_THAT(one_line(part.err), Contains("name whole files"));
  const std::string demo = folder.file(
      "demo.jsonl", call({"runs", logs[0], "--format", "jsonl", "--rides", "--splits", "0-30 mph"}).out);
  const Outcome main_split = call({"compare", "--from-jsonl", one, demo, "--main", "0-40 mph"});
  CHECK(main_split.code == Exit::usage);
  CHECK_THAT(one_line(main_split.err),
             Contains("--main takes one of the splits that the rides were timed for"));
  for (const char* command : {"compare", "logbook", "pairs"}) {
    CHECK(call({command, "--from-jsonl", one, "--from", "10:30"}).code == Exit::usage);
    CHECK(call({command, "--from-jsonl", one, "--include-gentle"}).code == Exit::usage);
    CHECK(call({command, "--from-jsonl", "/none.jsonl"}).code == Exit::failed);
  }
}

TEST_CASE("a line that is no ride costs itself alone", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string sound = lines();
  const std::string other =
      call({"runs", logs[2], "--format", "jsonl", "--rides", "--splits", "0-20 mph"}).out;
  const std::string half = sound.substr(0, 500) + "\n";
  const std::string file =
      folder.file("rides.jsonl", half + "\n{}\n[1,2]\n" + sound + other + R"({"bothways_ride":2})" + "\n");
  const Outcome merged = call({"pairs", "--from-jsonl", file});
  CHECK(merged.code == Exit::failed);
  CHECK(merged.out == call({"pairs", "--from-jsonl", folder.file("sound.jsonl", sound)}).out);
  const std::string said = one_line(merged.err);
  for (const char* line : {".jsonl:1:", ".jsonl:3:", ".jsonl:4:", ".jsonl:9:", ".jsonl:10:"}) {
    CHECK_THAT(said, Contains(line));
  }
  CHECK_THAT(said, Contains("other splits") && Contains("another version"));
}

TEST_CASE("every figure and byte of a ride survives a line", "[cli]") {
  RideLine line;
  line.ride.path = "a\xff\"\n\xc3\xa4";  // no UTF-8
  line.ride.top_speed_mps = 0.1 + 0.2;
  line.ride.receiver.white_sd_mps = std::numeric_limits<double>::denorm_min();
  line.ride.runs.accepted.emplace_back().start.lat_deg = unknown;
  line.ride.conditions.emplace().humidity = 1.0 / 3.0;
  line.splits = parse_splits("0-30 mph, 1/4 mi");
  std::ostringstream out;
  write_ride_line(out, line);
  const RideLine read = read_ride_line(out.str(), "x", 1);
  CHECK(read.ride.path == line.ride.path);
  CHECK(read.ride.top_speed_mps == line.ride.top_speed_mps);
  CHECK(read.ride.receiver.white_sd_mps == line.ride.receiver.white_sd_mps);
  CHECK_FALSE(is_known(read.ride.runs.accepted.at(0).start.lat_deg));
  CHECK(read.ride.conditions.value().humidity == line.ride.conditions->humidity);
  CHECK_FALSE(read.ride.conditions->wind_mps.has_value());
  CHECK(read.splits.at(1).name == "1/4 mi");
  CHECK_THROWS_AS(read_ride_line("", "x", 1), LogError);
}

TEST_CASE("options that were for the logs are refused beside lines", "[cli]") {
  CHECK(call({"pairs", "--from-jsonl", "x", "--splits", "0-30 mph"}).code == Exit::usage);
  CHECK(call({"runs", "x", "--rides"}).code == Exit::usage);
  CHECK(call({"runs", "x", "--rides", "--format", "jsonl"}).code == Exit::usage);
  CHECK(call({"runs", "x", "--rides", "--format", "jsonl", "--wide", "--splits", "60 ft"}).code ==
        Exit::usage);
}
