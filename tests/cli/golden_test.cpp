// Runs the program in process for every tests/cli/golden/<command>/<case>.args (one argument a line) and
// compares output, error stream and exit code with <case>.out, .err and .code; <case>.in is standard input.
// BOTHWAYS_UPDATE_GOLDEN=1 accepts what came out.
#include "cli/support.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <vector>

namespace {

namespace fs = std::filesystem;

std::vector<std::string> lines(const std::string& text) {
  std::vector<std::string> all;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) {
    all.push_back(line);
  }
  return all;
}

std::vector<fs::path> cases() {
  std::vector<fs::path> all;
  for (const auto& entry :
       fs::recursive_directory_iterator(fs::path(BOTHWAYS_SOURCE_DIR) / "tests/cli/golden")) {
    if (entry.path().extension() == ".args") {
      all.push_back(entry.path());
    }
  }
  std::sort(all.begin(), all.end());
  return all;
}

void accept(fs::path path, const char* extension, const std::string& text) {
  path.replace_extension(extension);
  if (text.empty()) {
    fs::remove(path);  // an empty stream has no file
  } else {
    std::ofstream(path, std::ios::binary) << text;
  }
}

fs::path beside(fs::path path, const char* extension) {
  return path.replace_extension(extension);
}

}  // namespace

TEST_CASE("output, error stream and exit code are those of the golden runs", "[cli][golden]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const bool update = std::getenv("BOTHWAYS_UPDATE_GOLDEN") != nullptr;
  const auto all = cases();
  REQUIRE(all.size() > 20);
  for (const fs::path& path : all) {
    CAPTURE(path.string());
    const Outcome outcome = call(lines(bytes_of(path)), bytes_of(beside(path, ".in")));
    const std::string code = std::to_string(static_cast<int>(outcome.code)) + "\n";
    if (update) {
      accept(path, ".out", outcome.out);
      accept(path, ".err", outcome.err);
      accept(path, ".code", code);
    }
    CHECK(outcome.out == bytes_of(beside(path, ".out")));
    CHECK(outcome.err == bytes_of(beside(path, ".err")));
    CHECK(code == bytes_of(beside(path, ".code")));
  }
}
