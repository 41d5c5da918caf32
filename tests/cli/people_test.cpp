// What the program says to people who slip: mistyped commands, readers gone, files given twice.
#include "bothways/report/escape.hpp"
#include "cli/command.hpp"
#include "cli/suggest.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <ostream>
#include <sstream>
#include <streambuf>

using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

const std::string source = BOTHWAYS_SOURCE_DIR;

/// A pipe of which the other end was closed after some bytes.
class ClosedBuffer : public std::streambuf {
 protected:
  int_type overflow(int_type c) override { return --room_ > 0 ? c : traits_type::eof(); }
  std::streamsize xsputn(const char* /*text*/, std::streamsize n) override {
    room_ -= n;
    return room_ > 0 ? n : 0;
  }

 private:
  std::streamsize room_ = 1000;
};

std::size_t widest_line(const std::string& text) {
  std::istringstream lines(text);
  std::size_t width = 0;
  for (std::string line; std::getline(lines, line);) {
    width = std::max(width, bothways::display_width(line));
  }
  return width;
}

}  // namespace

TEST_CASE("a mistyped command is wrong use, and the likely one is named before anything is printed",
          "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("ride.csv", "time,speed_mps\n");
  const InFolder here(folder.path());
  const Outcome outcome = call({"run", "ride.csv"});
  CHECK(outcome.code == Exit::usage);
  CHECK(outcome.out.empty());
  CHECK(outcome.err ==
        "bothways: there is no command 'run' and no file of that name; did you mean\n"
        "  'bothways runs'?\n");
  CHECK(suggestion("Pairs") == "bothways pairs");
  CHECK(suggestion("comp") == "bothways compare");
  CHECK(suggestion("sped") == "bothways speed");
  CHECK(suggestion("rnus") == "bothways runs");  // two letters swapped are one slip
  CHECK(suggestion("paln") == "bothways plan");
  CHECK(suggestion("help") == "bothways --help");
  CHECK(suggestion("saturday").empty());
  CHECK(suggestion("runs.gpx").empty());
  CHECK(suggestion("--run").empty());
  const Outcome later = call({"--format", "csv", "runn", "ride.csv"});
  CHECK(later.code == Exit::failed);
  CHECK_THAT(one_line(later.err), Contains("or the command, which comes first: bothways runs ..."));
}

TEST_CASE("a path that exists is a path, however like a command it looks", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("run", "time,speed_mps\n2026-05-04T09:30:12Z,0.0\n2026-05-04T09:30:13Z,0.0\n");
  const InFolder here(folder.path());
  CHECK(suggestion("run").empty());
  CHECK(call({"run"}).code == Exit::nothing_found);
}

TEST_CASE("a reader that is gone ends the work without a word, and a full disk with one", "[cli]") {
  for (const bool gone : {true, false}) {
    ClosedBuffer closed;
    std::ostream out(&closed);
    std::istringstream in;
    std::ostringstream err;
    const Exit code = run({"fixes", source + "/fixtures/demo/mill-lane.nmea.gz"},
                          {.in = in, .out = out, .err = err, .reader_gone = [&] { return gone; }});
    CHECK(code == (gone ? Exit::reader_gone : Exit::failed));
    CHECK(err.str() == (gone ? "" : "bothways fixes: standard output could not be written\n"));
  }
}

TEST_CASE("no sentence on the error stream and no help is wider than a terminal", "[cli]") {
  CHECK(widest_line(call({"run"}).err) <= 80);
  CHECK(widest_line(call({"plan", "--detect", "1"}).err) <= 80);
  CHECK(widest_line(call({source + "/fixtures/oddities/gpx-no-times.gpx"}).err) > 0);
  CHECK(widest_line(call({}).err) <= 80);
  for (const Command& command : commands()) {
    CAPTURE(command.name);
    std::vector<std::string> arguments{command.name, "--help"};
    arguments.erase(arguments.begin(), arguments.begin() + (*command.name == '\0' ? 1 : 0));
    CHECK(widest_line(call(arguments).out) <= 80);
  }
}

TEST_CASE("the help names what each command takes of its own", "[cli]") {
  const std::string help = call({"--help"}).out;
  for (const char* option : {"--before", "--side", "--detect", "--fuel", "--mass"}) {
    CHECK_THAT(help, Contains(option));
  }
  CHECK_THAT(help, Contains("bothways COMMAND --help"));
}

TEST_CASE("a file given more than once is told in one sentence", "[cli]") {
  const std::string log = source + "/fixtures/battery-csv/ride.csv";
  const Outcome once = call({log, "--format", "csv"});
  const Outcome twice =
      call({log, log, source + "/fixtures/battery-csv/../battery-csv/ride.csv", "--format", "csv"});
  CHECK(twice.code == Exit::ok);
  CHECK(twice.out == once.out);
  CHECK(once.err.empty());
  CHECK_THAT(one_line(twice.err), Contains("given more than once"));
  CHECK(std::count(twice.err.begin(), twice.err.end(), ':') == 1);
}

TEST_CASE("a copy of a log counts once and is told; a log that differs in one byte is another", "[cli]") {
  const TemporaryFolder folder;
  std::string ride = bytes_of(source + "/fixtures/two-logs/1-out.nmea");
  (void)folder.file("a.nmea", ride);
  const std::string path = folder.path().string();
  const std::string alone = call({path, "--format", "csv"}).out;
  (void)folder.file("b.nmea", ride);
  const Outcome copied = call({path, "--format", "csv", "--quiet"});
  CHECK(copied.out == alone);
  CHECK(copied.code == Exit::ok);
  CHECK_THAT(one_line(copied.err), Contains("b.nmea is a copy of ") && Contains("its runs count once"));
  ride.back() = ' ';
  (void)folder.file("b.nmea", ride);
  CHECK_THAT(call({path, "--format", "csv"}).err, !Contains("copy"));
}

TEST_CASE("gear changes are explained where the power shows them, and only there", "[cli]") {
  const auto power = [](const char* log) {
    return one_line(call({"power", source + "/fixtures/" + log, "--mass", "200kg"}).out);
  };
  CHECK_THAT(power("geared-25hz"), Contains("as gear changes make"));
  CHECK_THAT(power("demo"), !Contains("gear changes"));
  CHECK_THAT(power("battery-csv"), !Contains("gear changes"));
}

TEST_CASE("runs are numbered in order of time, whatever the names of the files and the jobs", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("a-back.nmea", bytes_of(source + "/fixtures/two-logs/2-back.nmea"));
  (void)folder.file("b-out.nmea", bytes_of(source + "/fixtures/two-logs/1-out.nmea"));
  const std::string path = folder.path().string();
  const std::string csv = call({path, "--format", "csv", "--jobs", "1"}).out;
  CHECK(csv == call({path, "--format", "csv", "--jobs", "2"}).out);
  const std::size_t first = csv.find("b-out.nmea");
  REQUIRE(first != std::string::npos);
  CHECK(first < csv.find("a-back.nmea"));
}

TEST_CASE("runs without a pair are shown with the reason, and the pairs were not found", "[cli]") {
  const Outcome outcome = call({"pairs", source + "/fixtures/two-logs/1-out.nmea"});
  CHECK(outcome.code == Exit::nothing_found);
  CHECK_THAT(outcome.out, Contains("alone"));
  CHECK_THAT(one_line(outcome.err), Contains("no pair of runs out and back"));
}

TEST_CASE("conditions that are not there are an input that could not be read", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = source + "/fixtures/battery-csv/ride.csv";
  const Outcome missing = call({log, "--conditions", (folder.path() / "missing.ini").string()});
  CHECK(missing.code == Exit::failed);
  CHECK(missing.out.empty());
  CHECK_THAT(one_line(missing.err), Contains("missing.ini") && Contains("could not be read"));
  CHECK(call({log, "--conditions", folder.path().string()}).code == Exit::failed);
  CHECK(call({log, "--conditions", folder.file("wrong.ini", "colour = red\n")}).code == Exit::usage);
}
