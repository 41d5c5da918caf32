// The program over the logs of fixtures/: what holds whatever the figures are.
#include "bothways/report/escape.hpp"
#include "cli/support.hpp"
#include "lib/report/contract_check.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>
#include <sstream>

using namespace bothways::cli;
namespace fs = std::filesystem;

namespace {

std::vector<std::string> fixtures() {
  std::vector<std::string> folders;
  for (const auto& entry : fs::directory_iterator("fixtures")) {
    if (entry.is_directory()) {
      folders.push_back(entry.path().string());
    }
  }
  std::sort(folders.begin(), folders.end());
  return folders;
}

/// Cells of a CSV text whose records are lines, after RFC 4180.
std::vector<std::vector<std::string>> records(const std::string& text) {
  std::vector<std::vector<std::string>> all{{""}};
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '"' && quoted && i + 1 < text.size() && text[i + 1] == '"') {
      all.back().back() += text[++i];
    } else if (c == '"') {
      quoted = !quoted;
    } else if (c == ',' && !quoted) {
      all.back().emplace_back();
    } else if (c == '\n' && !quoted) {
      all.push_back({""});
    } else if (c != '\r' || quoted) {
      all.back().back() += c;
    }
  }
  all.pop_back();
  return all;
}

}  // namespace

TEST_CASE("over every fixture JSON follows the contract and all formats tell of the same runs", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const auto folders = fixtures();
  REQUIRE(folders.size() > 3);
  for (const std::string& folder : folders) {
    CAPTURE(folder);
    const Outcome as_json = call({folder, "--format", "json"});
    CHECK((as_json.code == Exit::ok || as_json.code == Exit::nothing_found || as_json.code == Exit::failed));
    const auto document = nlohmann::json::parse(as_json.out);
    CHECK(contract_faults(document) == std::vector<std::string>{});

    std::size_t splits = 0;
    for (const auto& log : document["logs"]) {
      for (const auto& run : log["runs"]) {
        splits += run["splits"].size();
      }
    }
    const auto rows = records(call({folder, "--format", "csv"}).out);
    REQUIRE_FALSE(rows.empty());
    std::size_t results = splits + document["overall"].size();
    for (const auto& log : document["logs"]) {
      for (const auto& pair : log["pairs"]) {
        results += pair["splits"].size();
      }
    }
    CHECK(rows.size() == results + 1);
    const auto of_runs = [](const auto& row) { return row.front() == "run"; };
    CHECK(static_cast<std::size_t>(std::count_if(rows.begin(), rows.end(), of_runs)) == splits);
    for (const auto& row : rows) {
      CHECK(row.size() == rows.front().size());
    }
    // The runs and pairs alone are the same objects, with the path of their log.
    auto runs = nlohmann::json::parse(call({"runs", folder, "--format", "json"}).out)["runs"];
    auto pairs = nlohmann::json::parse(call({"pairs", folder, "--format", "json"}).out)["pairs"];
    for (const auto& log : document["logs"]) {
      for (const auto* list : {"runs", "pairs"}) {
        for (auto element : log[list]) {
          element["path"] = log["path"];
          const auto& alone = list == std::string("runs") ? runs : pairs;
          CHECK(std::find(alone.begin(), alone.end(), element) != alone.end());
        }
      }
    }
  }
}

TEST_CASE("over every fixture text fits 80 columns and holds no control character and no NaN", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const std::string& folder : fixtures()) {
    for (const std::vector<std::string>& arguments : {std::vector<std::string>{folder},
                                                      {folder, "--explain", "--clock", "movement"},
                                                      {"runs", folder, "--units", "kmh"},
                                                      {"pairs", folder}}) {
      std::istringstream lines(call(arguments).out);
      for (std::string line; std::getline(lines, line);) {
        CAPTURE(folder, line);
        CHECK(bothways::display_width(line) <= 80);
        CHECK(bothways::escaped(line) == line);
        CHECK(line.find("nan") == std::string::npos);
        CHECK(line.find("inf ") == std::string::npos);
      }
    }
  }
}

TEST_CASE("over the fixtures results do not depend on the number of jobs", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Outcome one = call({"fixtures", "--format", "json", "--jobs", "1"});
  const Outcome many = call({"fixtures", "--format", "json", "--jobs", "5"});
  CHECK(one.out == many.out);
  CHECK(one.err == many.err);
  CHECK(one.code == many.code);
}

TEST_CASE("a pipe gives what the file gives, but for the name", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::string path = "fixtures/battery-csv/ride.csv";
  auto from_file = nlohmann::json::parse(call({path, "--format", "json"}).out);
  const auto from_pipe = nlohmann::json::parse(call({"-", "--format", "json"}, bytes_of(path)).out);
  from_file["logs"][0]["path"] = "-";
  CHECK(from_pipe == from_file);
}
