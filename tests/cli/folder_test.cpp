// What a folder holds beside its logs is told, by kind.
#include "cli/support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>

using namespace bothways::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::Equals;
namespace fs = std::filesystem;

namespace {

const std::string log_text = bytes_of(BOTHWAYS_SOURCE_DIR "/tests/cli/input/standing.csv");

}  // namespace

TEST_CASE("other files of a folder are told by kind, and named with their reason on request", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("ride.csv", log_text);
  (void)folder.file("a.jpg", "\xFF\xD8\xFF picture");
  (void)folder.file("b.JPG", "\xFF\xD8\xFF picture");
  (void)folder.file("notes", "dry road");
  (void)folder.file("conditions.ini", "setup = springs\n");
  const std::string here = folder.path().string();
  const Outcome outcome = call({"fixes", here});
  CHECK(outcome.code == Exit::ok);
  CHECK_THAT(one_line(outcome.err),
             Contains("3 other files in " + here +
                      " are not ride logs: 1 without an ending, 2 .jpg; --explain names them"));
  CHECK_THAT(outcome.err, !Contains("a.jpg") && !Contains("conditions.ini"));
  const Outcome explained = call({"runs", here, "--explain"});
  CHECK_THAT(one_line(explained.err), Contains(here + "/a.jpg: ") && Contains(here + "/notes: "));
}

TEST_CASE("a file that is named like a log and is none is told with its reason", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("ride.csv", log_text);
  (void)folder.file("other.csv", "name,colour\nmoped,red\n");
  const std::string here = folder.path().string();
  const Outcome outcome = call({"fixes", here});
  CHECK(outcome.code == Exit::ok);
  CHECK_THAT(one_line(outcome.err), Contains("1 other file in " + here + " is not a ride log: 1 .csv"));
  CHECK_THAT(one_line(outcome.err), Contains(here + "/other.csv"));
}

TEST_CASE("of many logs of one size those that are copies are told", "[cli]") {
  const TemporaryFolder folder;
  const std::string numbers = "0123456789";
  for (const char first : numbers) {
    for (const char second : numbers) {
      std::string text = log_text;
      const bool alike = first == '7';
      text.replace(text.rfind("20.0"), 4, {'1', first, '.', alike ? '0' : second});
      (void)folder.file(std::string{first, second} + ".csv", text);
    }
  }
  const Outcome outcome = call({"fixes", folder.path().string(), "--format", "csv"});
  INFO(outcome.err);
  CHECK_THAT(one_line(outcome.err), Contains("9 files are copies of others: "));
}

TEST_CASE("a file of a folder that cannot be read is a failure, and the others are read", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("ride.csv", log_text);
  fs::create_symlink(folder.path() / "gone.gpx", folder.path() / "link.gpx");
  const Outcome outcome = call({"fixes", folder.path().string(), "--format", "csv"});
  CHECK(outcome.code == Exit::failed);
  CHECK_THAT(outcome.err, Contains("link.gpx"));
  CHECK_THAT(outcome.out, Contains("ride.csv"));
}

TEST_CASE("a folder within a folder that cannot be opened is a failure, and the others are read", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("ride.csv", log_text);
  const fs::path shut = folder.path() / "shut";
  fs::create_directory(shut);
  fs::permissions(shut, fs::perms::none);
  std::error_code error;
  const bool is_shut = fs::directory_iterator(shut, error) == fs::directory_iterator() && error;
  const Outcome outcome = call({"fixes", folder.path().string(), "--format", "csv"});
  fs::permissions(shut, fs::perms::owner_all);
  CHECK_THAT(outcome.out, Contains("ride.csv"));
  if (is_shut) {  // root may open it
    CHECK(outcome.code == Exit::failed);
    CHECK_THAT(one_line(outcome.err), Contains("shut: this could not be opened; check its permissions"));
  }
}

TEST_CASE("a folder of logs and their conditions alone is told of in no word", "[cli]") {
  const TemporaryFolder folder;
  (void)folder.file("ride.csv", log_text);
  (void)folder.file("conditions.ini", "setup = springs\n");
  CHECK_THAT(call({"fixes", folder.path().string()}).err, Equals(""));
}
