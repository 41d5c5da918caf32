#include "cli/output.hpp"

#include "cli/command.hpp"
#include "cli/support.hpp"

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
