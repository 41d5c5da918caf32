// Logs that were damaged on their way here, through the whole program.
#include "cli/support.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <string>
#include <vector>

using namespace bothways;
using bothways::cli::Exit;
namespace fs = std::filesystem;

namespace {

/// The logs of the fixtures that hold rides, small files of oddities left out.
std::vector<fs::path> rides() {
  std::vector<fs::path> all;
  for (const auto& entry : fs::recursive_directory_iterator(fs::path(BOTHWAYS_SOURCE_DIR) / "fixtures")) {
    const std::string extension = entry.path().extension().string();
    if (entry.is_regular_file() && extension != ".txt" && extension != ".md" && entry.file_size() > 20'000) {
      all.push_back(entry.path());
    }
  }
  std::sort(all.begin(), all.end());
  return all;
}

/// What every run of the program owes whatever it is given.
void check_rules(const TemporaryFolder& folder, const std::string& extension, const std::string& bytes) {
  const std::string name = "ride" + extension;
  const std::string path = folder.file(name, bytes);
  const auto begin = std::chrono::steady_clock::now();
  const Outcome outcome = call({path, "--format", "json", "--jobs", "1"});
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
  CHECK(took.count() < 20.0);  // 2 s, on a machine ten times as busy
  const bool by_the_rules =
      outcome.code == Exit::ok || outcome.code == Exit::failed || outcome.code == Exit::nothing_found;
  CHECK(by_the_rules);
  CHECK((outcome.code == Exit::ok) == outcome.err.empty());
  if (outcome.code == Exit::failed) {
    CHECK(one_line(outcome.err).find(name) != std::string::npos);
  }
  const auto result = nlohmann::json::parse(outcome.out, nullptr, false);
  REQUIRE(result.is_object());  // a figure that is not finite would not parse
  for (const auto& log : result["logs"]) {
    for (const auto& run : log["runs"]) {
      for (const auto& split : run["splits"]) {
        CHECK(split["time_s"].get<double>() > 0.0);
        CHECK(split["sd_s"].get<double>() > 0.0);
        CHECK(split["lo95_s"].get<double>() <= split["time_s"].get<double>());
        CHECK(split["time_s"].get<double>() <= split["hi95_s"].get<double>());
      }
    }
  }
}

void cut_every(std::size_t step) {
  const TemporaryFolder folder;
  std::size_t cuts = 0;
  for (const fs::path& ride : rides()) {
    const std::string bytes = bytes_of(ride);
    for (std::size_t cut = step / 2; cut < bytes.size(); cut += step) {
      CAPTURE(ride.string(), cut);
      check_rules(folder, ride.extension().string(), bytes.substr(0, cut));
      ++cuts;
    }
  }
  CHECK(cuts > 1'000'000 / step);
}

}  // namespace

TEST_CASE("a ride cut anywhere ends the program by its rules", "[cli]") {
  cut_every(49'999);
}

TEST_CASE("a ride cut at every 4999th byte ends the program by its rules", "[cli][slow]") {
  cut_every(4'999);
}

TEST_CASE("rides with flipped bits, doubled and swapped blocks end the program by its rules", "[cli]") {
  const TemporaryFolder folder;
  sim::Random random(23);
  const auto below = [&](std::size_t n) {
    return static_cast<std::size_t>(random.integer(0, static_cast<int>(n) - 1));
  };
  for (const fs::path& ride : rides()) {
    CAPTURE(ride.string());
    const std::string bytes = bytes_of(ride);
    std::string flipped = bytes;
    for (int i = 0; i < 200; ++i) {
      flipped[below(bytes.size())] ^= static_cast<char>(1U << below(8));
    }
    const std::string extension = ride.extension().string();
    check_rules(folder, extension, flipped);
    const std::size_t a = below(bytes.size() / 2);
    const std::size_t b = a + below(bytes.size() / 2);
    check_rules(folder, extension, bytes.substr(0, b) + bytes.substr(a));
    check_rules(folder, extension, bytes.substr(b) + bytes.substr(0, b));
  }
}
