#include "cli/app.hpp"

#include "cli/command.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <ostream>
#include <sstream>
#include <streambuf>

using namespace bothways::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::EndsWith;

namespace {

/// A device that is full.
class FullBuffer : public std::streambuf {};

/// One fix a second in CSV, our own format, standing still.
std::string small_log() {
  return "time,lat,lon,speed_mps\n"
         "2026-05-04T09:30:12Z,10.0,20.0,0.0\n"
         "2026-05-04T09:30:13Z,10.0,20.0,0.0\n"
         "2026-05-04T09:30:14Z,10.0,20.0,0.0\n";
}

}  // namespace

TEST_CASE("every command explains itself and wants a path", "[cli]") {
  for (const Command& command : commands()) {
    CAPTURE(command.name);
    std::vector<std::string> arguments;
    if (*command.name != '\0') {
      arguments.emplace_back(command.name);
    }
    auto with_help = arguments;
    with_help.emplace_back("--help");
    const Outcome help = call(with_help);
    CHECK(help.code == Exit::ok);
    CHECK(help.err.empty());
    CHECK_THAT(help.out, Contains("Usage: bothways"));
    // A plan needs no log: alone it tells how to ride.
    CHECK(call(arguments).code == (std::string(command.name) == "plan" ? Exit::ok : Exit::usage));
  }
}

TEST_CASE("an output that cannot be written is a failure with a sentence", "[cli]") {
  FullBuffer full;
  std::ostream out(&full);
  std::istringstream in;
  std::ostringstream err;
  CHECK(run({"--help"}, {.in = in, .out = out, .err = err}) == Exit::failed);
  CHECK(err.str() == "bothways: standard output could not be written\n");
}

TEST_CASE("a config file gives options that the command line did not", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", small_log());
  const std::string config = folder.file("config.ini", "# ours\nformat = json\nunits = kmh\nquiet = true\n");
  CHECK_THAT(call({"fixes", log}, "", config).out, Contains(R"("table":"fixes")"));
  CHECK_THAT(call({"fixes", log, "--format", "csv"}, "", config).out, EndsWith("\r\n"));
  CHECK(call({"fixes", log}, "", (folder.path() / "none.ini").string()).code == Exit::ok);
}

TEST_CASE("a switch in a config file is on", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", small_log());
  CHECK_THAT(call({log}).out, !Contains("How starts are judged"));
  CHECK_THAT(call({log}, "", folder.file("config.ini", "explain = true\n")).out,
             Contains("How starts are judged"));
  CHECK(call({log}, "", folder.file("config.ini", "explain = perhaps\n")).code == Exit::usage);
}

TEST_CASE("a log without a run says what was looked for, and is no trouble among logs with runs", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", small_log());
  const Outcome alone = call({log});
  CHECK(alone.code == Exit::nothing_found);
  CHECK_THAT(alone.out, Contains("3 fixes") && Contains("No runs"));
  CHECK_THAT(alone.err, Contains("no run found") && Contains("to 30 mph at least") && Contains("0.0 mph"));
  const Outcome among = call({log, std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/battery-csv/ride.csv"});
  CHECK(among.code == Exit::ok);
  CHECK(among.err.empty());
}

TEST_CASE("a folder without a log among others with logs is told and no failure", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("empty/notes.txt", "nothing");
  (void)folder.file("full/ride.csv", small_log());
  const InFolder here(folder.path());
  const Outcome outcome = call({"fixes", "empty", "full"});
  CHECK(outcome.code == Exit::ok);
  CHECK_THAT(outcome.err, Contains("no log found in the folder empty"));
}

TEST_CASE("a config file with a key that no command knows, or no key at all, is wrong use and named",
          "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", small_log());
  const auto try_config = [&](const std::string& text) {
    const std::string config = folder.file("config.ini", text);
    const Outcome outcome = call({"fixes", log}, "", config);
    CHECK(outcome.code == Exit::usage);
    CHECK(outcome.out.empty());
    CHECK_THAT(outcome.err, Contains(config));
    return one_line(outcome.err);
  };
  CHECK_THAT(try_config("colour = red\n"), Contains("there is no option 'colour'"));
  CHECK_THAT(try_config("just words\n"), Contains("key = value"));
  CHECK_THAT(try_config("format = csv\nformat = json\n"), Contains("twice"));
  CHECK_THAT(try_config("path = x\n"), Contains("there is no option 'path'"));
  CHECK_THAT(try_config("# ours\n\nformats = csv\n"),
             Contains("line 3: there is no option 'formats'; did you mean 'format'?"));
  CHECK_THAT(try_config("Format = csv\njobs = many\n"), Contains("line 2: --jobs takes a whole number"));
  CHECK_THAT(try_config("format = html\n"), Contains("line 1: --format takes one of"));
  const Outcome maybe = call({log}, "", folder.file("config.ini", "explain = maybe\n"));
  CHECK(maybe.code == Exit::usage);
  CHECK_THAT(one_line(maybe.err), Contains("line 1: explain takes yes or no, not 'maybe'"));
}

TEST_CASE("an input that cannot be read does not stop the others", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", small_log());
  const Outcome outcome = call({"fixes", (folder.path() / "none.gpx").string(), log, "--format", "csv"});
  CHECK(outcome.code == Exit::failed);
  CHECK_THAT(outcome.err, Contains("none.gpx"));
  CHECK_THAT(outcome.out, Contains("ride.csv"));
}

TEST_CASE("a log named twice, by whatever path, is read once", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("a/ride.csv", small_log());
  const InFolder here(folder.path());
  const std::string once = call({"fixes", "a/ride.csv", "--format", "csv"}).out;
  CHECK(call({"fixes", "a/ride.csv", "./a/../a/ride.csv", log, "--format", "csv"}).out == once);
}

TEST_CASE("results do not depend on the number of jobs", "[cli]") {
  const TemporaryFolder folder;
  for (int i = 0; i < 9; ++i) {
    (void)folder.file("ride" + std::to_string(i) + ".csv", small_log());
  }
  const std::string path = folder.path().string();
  for (const char* command : {"fixes", "speed", "runs"}) {
    const Outcome one = call({command, path, "--format", "json", "--jobs", "1"});
    const Outcome many = call({command, path, "--format", "json", "--jobs", "7"});
    CHECK(one.out == many.out);
    CHECK(one.err == many.err);
    CHECK(one.code == many.code);
  }
}

TEST_CASE("a file named like a command is read when its path says that it is a file", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("fixes", small_log());
  const InFolder here(folder.path());
  const Outcome outcome = call({"fixes", "./fixes", "--format", "csv"});
  CHECK(outcome.code == Exit::ok);
  CHECK_THAT(outcome.out, Contains("./fixes"));
}

TEST_CASE("what the program wrote of runs and pairs beside the logs is not taken for a log", "[cli]") {
  const TemporaryFolder folder;
  const std::string ride = bytes_of(std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/battery-csv/ride.csv");
  (void)folder.file("ride.csv", ride);
  const InFolder here(folder.path());
  const Outcome before = call({".", "--format", "json"});
  CHECK(call({".", "--format", "csv", "-o", "runs.csv"}).code == Exit::ok);
  CHECK(call({".", "--format", "csv", "--wide", "-o", "wide.csv"}).code == Exit::ok);
  CHECK(call({"pairs", ".", "--format", "csv", "-o", "pairs.csv"}).code == Exit::ok);
  CHECK(call({".", "--format", "csv", "-o", "runs.csv"}).code == Exit::ok);  // once more over the same file
  CHECK(call({".", "--format", "json"}).out == before.out);
  CHECK_THAT(one_line(call({"runs.csv"}).err), Contains("it holds times that this program has written"));
}

TEST_CASE("fixes written as CSV give the runs of the log they came from", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/battery-csv/ride.csv";
  const std::string copy = (folder.path() / "fixes.csv").string();
  CHECK(call({"fixes", log, "--format", "csv", "-o", copy}).code == Exit::ok);
  const auto runs = [](const std::string& path) {
    return nlohmann::json::parse(call({path, "--format", "json"}).out)["logs"][0]["runs"];
  };
  const auto of_log = runs(log);
  const auto of_copy = runs(copy);
  REQUIRE(of_log.size() == of_copy.size());
  for (std::size_t i = 0; i < of_log.size(); ++i) {
    // Places are written to a centimetre and speeds to a millimetre a second: times move by less than 2 ms.
    CHECK_THAT(of_copy[i]["splits"][0]["time_s"].get<double>(),
               Catch::Matchers::WithinAbs(of_log[i]["splits"][0]["time_s"].get<double>(), 0.002));
  }
}
