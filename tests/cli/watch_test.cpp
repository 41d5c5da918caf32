#include "cli/watch.hpp"

#include "bothways/core/error.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <sstream>

using namespace bothways::cli;
using Catch::Matchers::Contains;

namespace {

namespace fs = std::filesystem;

constexpr int soon_ms = 1000;  // the event is there when the file is closed

/// Runs --watch on a folder until `stopped` says so.
std::string watched(const std::string& folder, const std::function<bool()>& stopped,
                    const std::vector<std::string>& more = {}) {
  std::vector<std::string> arguments{"--watch", folder};
  arguments.insert(arguments.end(), more.begin(), more.end());
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  CHECK(run(arguments, {.in = in, .out = out, .err = err, .stopped = stopped}) == Exit::ok);
  return out.str() + err.str();
}

}  // namespace

TEST_CASE("a file is told of when who wrote it closes it, not before", "[cli]") {
  const TemporaryFolder folder;
  FolderWatch watch(folder.path().string());
  std::ofstream file(folder.path() / "ride.gpx");
  file << "half" << std::flush;
  CHECK_FALSE(watch.next(0));
  file << "whole" << std::flush;
  file.close();
  CHECK(watch.next(soon_ms) == (folder.path() / "ride.gpx").string());
  CHECK_FALSE(watch.next(0));
}

TEST_CASE("a file that gets its name when it is complete is told of once, hidden ones and folders never",
          "[cli]") {
  const TemporaryFolder folder;
  FolderWatch watch(folder.path().string());
  (void)folder.file(".ride.gpx.part", "all");
  fs::create_directory(folder.path() / "later");
  fs::rename(folder.path() / ".ride.gpx.part", folder.path() / "ride.gpx");
  CHECK(watch.next(soon_ms) == (folder.path() / "ride.gpx").string());
  CHECK_FALSE(watch.next(0));
}

TEST_CASE("a folder that is none, or goes away, is told of", "[cli]") {
  const TemporaryFolder folder;
  CHECK_THROWS_WITH(FolderWatch((folder.path() / "none").string()), Contains("this is no folder"));
  const std::string inner = (folder.path() / "inner").string();
  fs::create_directory(inner);
  FolderWatch watch(inner);
  fs::remove(inner);
  CHECK_THROWS_WITH(watch.next(soon_ms), Contains("the folder is gone"));
}

TEST_CASE("watching tells of each log that is copied into the folder, and of nothing else", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  int looks = 0;
  const auto bring = [&] {  // called before each wait
    if (++looks == 1) {
      (void)folder.file("notes.txt", "no log");
      (void)folder.file("out.nmea", bytes_of("fixtures/two-logs/1-out.nmea"));
      (void)folder.file("broken.gpx", "<gpx><trk>");
    }
    return looks > 5;
  };
  const std::string told = watched(folder.path().string(), bring);
  CHECK_THAT(told, Contains("waiting for logs in") &&
                       Contains("== " + (folder.path() / "out.nmea").string()) &&
                       Contains("2 runs on 2026-05-04") && !Contains("notes.txt"));
  CHECK_THAT(told, Contains("broken.gpx"));
}

TEST_CASE("watching goes with neither other logs nor a file of output", "[cli]") {
  const TemporaryFolder folder;
  CHECK_THAT(one_line(call({"--watch", folder.path().string(), "ride.gpx"}).err), Contains("name no others"));
  CHECK_THAT(one_line(call({"--watch", folder.path().string(), "-o", "x"}).err),
             Contains("--watch writes to standard output"));
}
