// The page of a log that was dropped on the program.
#include "cli/page_support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <sstream>
#include <string>
#include <vector>

using bothways::cli::Exit;
namespace fs = std::filesystem;

namespace {

struct Opened {
  Exit code = Exit::ok;
  std::vector<std::string> files;
  std::string err;
};

Opened open_page(const std::vector<std::string>& paths, bool can_show = true) {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  Opened opened;
  std::vector<std::string> arguments{"page", "--open"};
  arguments.insert(arguments.end(), paths.begin(), paths.end());
  const auto show = [&](const std::string& path) {
    opened.files.push_back(path);
    return can_show;
  };
  opened.code = bothways::cli::run(arguments, {.in = in, .out = out, .err = err, .open_file = show});
  opened.err = err.str();
  return opened;
}

}  // namespace

TEST_CASE("a log that is opened has its page beside it under a new name, and no file is overwritten",
          "[cli]") {
  if (!has_charts()) {
    return;
  }
  const TemporaryFolder folder;
  const std::string log = (folder.path() / "ride.nmea.gz").string();
  fs::copy_file(std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/demo/mill-lane.nmea.gz", log);
  const std::string theirs = folder.file("ride.html", "theirs");
  fs::create_symlink(folder.path() / "nowhere", folder.path() / "ride-2.html");
  for (const std::string name : {"ride-3.html", "ride-4.html"}) {
    const Opened opened = open_page({log});
    CHECK(opened.code == Exit::ok);
    CHECK(opened.files == std::vector<std::string>{(folder.path() / name).string()});
    CHECK(bytes_of(folder.path() / name).starts_with("<!doctype html>"));
  }
  CHECK(bytes_of(theirs) == "theirs");
  CHECK(bytes_of(log) == bytes_of(std::string(BOTHWAYS_SOURCE_DIR) + "/fixtures/demo/mill-lane.nmea.gz"));
  CHECK(one_line(open_page({log}, false).err).find("could not be shown") != std::string::npos);
}

TEST_CASE("what is no log leaves no page behind, and --open takes logs alone", "[cli]") {
  const TemporaryFolder folder;
  const std::string file = folder.file("letter.txt", "Dear all,");
  const Opened opened = open_page({file});
  CHECK(opened.code == Exit::failed);
  CHECK(opened.files.empty());
  CHECK_FALSE(fs::exists(folder.path() / "letter.html"));
  CHECK(open_page({"-"}).code != Exit::ok);
  CHECK(open_page({file, "-o", "x.html"}).code == Exit::usage);
}
