#include "bothways/log/folder.hpp"

#include "bothways/core/error.hpp"

#include <catch2/catch.hpp>
#include <sys/stat.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>

namespace fs = std::filesystem;
using namespace bothways;

namespace {

/// A folder of its own for one test, gone afterwards.
class Scratch {
 public:
  Scratch() : path_(fs::temp_directory_path() / ("bothways_folder_" + std::to_string(::getpid()))) {
    fs::remove_all(path_);
    fs::create_directories(path_);
  }
  ~Scratch() { fs::remove_all(path_); }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;

  void put(const std::string& name, const std::string& text = "time,lat,lon\n1777887000,46.5,9.1\n") const {
    fs::create_directories((path_ / name).parent_path());
    std::ofstream(path_ / name) << text;
  }
  [[nodiscard]] std::vector<std::string> found(const FolderOptions& options = {}) const {
    std::vector<std::string> names;
    for (const std::string& path : find_logs(path_.string(), options).paths) {
      names.push_back(fs::relative(path, path_).string());
    }
    return names;
  }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

using Names = std::vector<std::string>;

}  // namespace

TEST_CASE("a folder is searched for logs by content, in order of name", "[log]") {
  const Scratch scratch;
  scratch.put("b.txt");
  scratch.put("a/ride");
  scratch.put("c.gpx", "<gpx/>");
  scratch.put("conditions.ini", "temperature = 12 C\n");
  scratch.put("photo.gpx", "\x89PNG\r\n");
  scratch.put("empty.nmea", "");
  scratch.put(".hidden.csv");
  scratch.put(".folder/ride.csv");
  CHECK(scratch.found() == Names{"a/ride", "b.txt", "c.gpx"});
}

TEST_CASE("links to files are followed once, links to folders not", "[log]") {
  const Scratch scratch;
  scratch.put("rides/a.csv");
  fs::create_symlink("rides/a.csv", scratch.path() / "z.csv");
  fs::create_symlink("..", scratch.path() / "rides/loop");
  fs::create_symlink("nowhere", scratch.path() / "dangling");
  CHECK(scratch.found() == Names{"rides/a.csv"});
  const FoundLogs found = find_logs(scratch.path().string());
  REQUIRE(found.notes.size() == 1);
  CHECK(found.notes[0].code == "folder-link");
}

TEST_CASE("pipes and devices in a folder are passed over without being opened", "[log]") {
  const Scratch scratch;
  scratch.put("ride.csv");
  REQUIRE(::mkfifo((scratch.path() / "pipe.nmea").c_str(), 0600) == 0);  // opening it would wait for a writer
  fs::create_symlink("/dev/zero", scratch.path() / "zero.gpx");
  CHECK(scratch.found() == Names{"ride.csv"});
}

TEST_CASE("folders deeper than the limit are not searched, and a note says so", "[log]") {
  const Scratch scratch;
  scratch.put("1/2/3/ride.csv");
  scratch.put("1/ride.csv");
  CHECK(scratch.found({.depth = 2}) == Names{"1/ride.csv"});
  CHECK(find_logs(scratch.path().string(), {.depth = 2}).notes.at(0).code == "folder-deep");
  CHECK(scratch.found({.depth = 3}) == Names{"1/2/3/ride.csv", "1/ride.csv"});
}

TEST_CASE("a search stops at its limit of names", "[log]") {
  const Scratch scratch;
  for (int i = 0; i < 20; ++i) {
    scratch.put(std::to_string(i) + ".csv");
  }
  const FoundLogs found = find_logs(scratch.path().string(), {.entries = 10});
  CHECK(found.paths.size() == 10);
  CHECK(found.notes.at(0).code == "folder-full");
}

TEST_CASE("a path that is no folder is given back, one that is not there is an error", "[log]") {
  const Scratch scratch;
  scratch.put("ride.csv");
  const std::string file = (scratch.path() / "ride.csv").string();
  CHECK(find_logs(file).paths == Names{file});
  CHECK_THROWS_AS(find_logs((scratch.path() / "none").string()), LogError);
}
