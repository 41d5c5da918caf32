#include "cli/output.hpp"

#include "cli/command.hpp"
#include "cli/page_support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <ostream>
#include <sstream>
#include <stdexcept>

using namespace bothways::cli;
namespace fs = std::filesystem;

namespace {

std::size_t files_in(const fs::path& folder) {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

struct Silent {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  Streams streams{.in = in, .out = out, .err = err};
};

}  // namespace

TEST_CASE("an output file appears whole, as an ordinary file, and nothing else is left", "[cli]") {
  const TemporaryFolder folder;
  Silent silent;
  const std::string name = (folder.path() / "out.csv").string();
  write_output({.file = name}, silent.streams, [&](std::ostream& out) {
    out << "first";
    CHECK_FALSE(fs::exists(name));
  });
  CHECK(bytes_of(name) == "first");
  CHECK(files_in(folder.path()) == 1);
  const std::string plain = folder.file("plain", "");
  CHECK(fs::status(name).permissions() == fs::status(plain).permissions());
  CHECK(silent.out.str().empty());
}

TEST_CASE("an output that fails half way leaves what was there", "[cli]") {
  const TemporaryFolder folder;
  Silent silent;
  const std::string name = folder.file("out.csv", "before");
  CHECK_THROWS_AS(write_output({.file = name}, silent.streams,
                               [](std::ostream& out) {
                                 out << "half";
                                 throw std::runtime_error("no");
                               }),
                  std::runtime_error);
  CHECK(bytes_of(name) == "before");
  CHECK_THROWS_AS(
      write_output({.file = name}, silent.streams, [](std::ostream& out) { out.setstate(std::ios::badbit); }),
      OutputError);
  CHECK(bytes_of(name) == "before");
  CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("an output through a link changes the file and keeps the link", "[cli]") {
  const TemporaryFolder folder;
  Silent silent;
  const std::string real = folder.file("real.csv", "before");
  const fs::path link = folder.path() / "link.csv";
  fs::create_symlink(real, link);
  write_output({.file = link.string()}, silent.streams, [](std::ostream& out) { out << "after"; });
  CHECK(bytes_of(real) == "after");
  CHECK(fs::is_symlink(link));
}

TEST_CASE("an output that has no place is refused with a sentence", "[cli]") {
  const TemporaryFolder folder;
  Silent silent;
  const auto nothing = [](std::ostream& /*out*/) {};
  CHECK_THROWS_WITH(write_output({.file = folder.path().string()}, silent.streams, nothing),
                    Catch::Matchers::Contains("is a folder"));
  CHECK_THROWS_AS(write_output({.file = (folder.path() / "no/out.csv").string()}, silent.streams, nothing),
                  OutputError);
  CHECK_THROWS_AS(write_output({.file = "/dev/full"}, silent.streams, [](std::ostream& out) { out << "x"; }),
                  OutputError);
}

TEST_CASE("an output without a name is wrong use, and - is standard output", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", "time,speed_mps\n1777887000,1\n1777887001,2\n");
  CHECK(call({"fixes", log, "-o", ""}).code == Exit::usage);
  CHECK(call({"fixes", log, "--output", ""}).err.find("--output needs") != std::string::npos);
  const Outcome outcome = call({"fixes", log, "--format", "csv", "-o", "-"});
  CHECK(outcome.code == Exit::ok);
  CHECK(outcome.out == call({"fixes", log, "--format", "csv"}).out);
}

TEST_CASE("an output that is one of the inputs is refused, by whatever name", "[cli]") {
  const TemporaryFolder folder;
  const std::string log = folder.file("ride.csv", "x");
  const fs::path link = folder.path() / "link.csv";
  fs::create_symlink(log, link);
  CHECK_THROWS_AS(refuse_to_overwrite({.file = log}, {log}), UsageError);
  CHECK_THROWS_AS(refuse_to_overwrite({.file = link.string()}, {"-", "none", log}), UsageError);
  CHECK_NOTHROW(refuse_to_overwrite({.file = (folder.path() / "new.csv").string()}, {log}));
  CHECK_NOTHROW(refuse_to_overwrite({}, {log}));
  const Outcome outcome = call({"fixes", log, "-o", log});
  CHECK(outcome.code == Exit::usage);
  CHECK(bytes_of(log) == "x");
}

TEST_CASE("without --format the ending of the output's name says how it is written", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string log = "fixtures/demo/mill-lane.nmea.gz";
  const auto written = [&](const std::string& name, std::vector<std::string> more,
                           const std::string& config = "") {
    const std::string file = (folder.path() / name).string();
    more.insert(more.end(), {"-o", file});
    CHECK(call(more, "", config.empty() ? "" : folder.file("config.ini", config)).code == Exit::ok);
    return bytes_of(file);
  };
  const std::string text = call({log}).out;
  for (const char* format : {"csv", "json", "jsonl"}) {
    CAPTURE(format);
    const std::string expected = call({log, "--format", format}).out;
    CHECK(expected != text);
    CHECK(written("ride." + std::string(format), {log}) == expected);
    // --format is stronger than the name, and the name than the config file.
    CHECK(written("ride." + std::string(format), {log, "--format", "text"}) == text);
    CHECK(written("ride.txt", {log}, "format = " + std::string(format)) == expected);
    CHECK(written("ride." + std::string(format), {log}, "format = text") == expected);
  }
  CHECK(written("RIDE.CSV", {"runs", log}) == call({"runs", log, "--format", "csv"}).out);
  CHECK(written("runs.csv", {"runs", log, "--wide"}) == call({"runs", log, "--format", "csv", "--wide"}).out);
  CHECK(written("ride.csv.txt", {log}) == text);
  CHECK(written("csv", {log}) == text);
}

TEST_CASE("a name that ends in .html gives the page, where there is one", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string file = (folder.path() / "ride.html").string();
  const auto written = [&](std::vector<std::string> words, const std::string& config = "") {
    words.insert(words.end(), {"-o", file});
    const Outcome outcome = call(words, "", config.empty() ? "" : folder.file("config.ini", config));
    INFO(outcome.err);
    CHECK(outcome.code == Exit::ok);
    return bytes_of(file);
  };
  const std::string log = "fixtures/demo/mill-lane.nmea.gz";
  const std::string before = "fixtures/before-after/before";
  const std::string after = "fixtures/before-after/after";
  CHECK(written({log}) == call({"page", log}).out);
  CHECK(written({log}, "format = csv") == call({"page", log}).out);
  CHECK(written({"compare", before, after}) == call({"page", "--before", before, "--after", after}).out);
  CHECK(written({"logbook", "fixtures/before-after"}) ==
        call({"logbook", "fixtures/before-after", "--page"}).out);
  CHECK(written({log, "--format", "text"}) == call({log}).out);
  fs::remove(file);
  for (const char* command : {"fixes", "speed", "runs", "pairs", "trip"}) {
    CAPTURE(command);
    const Outcome refused = call({command, log, "-o", file});
    CHECK(refused.code == Exit::usage);
    CHECK_THAT(one_line(refused.err), Catch::Matchers::Contains("writes no page"));
  }
  CHECK(call({"runs", log, "--wide", "-o", file}).code == Exit::usage);
  CHECK(call({log, "--wide", "-o", file}).code == Exit::usage);
  CHECK_FALSE(fs::exists(file));
}
