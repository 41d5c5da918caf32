// The five lines at the top of the library's map, compiled as they stand there.
#include "bothways/bothways.hpp"
#include "docs/pages.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>

namespace {

void use(double /*time_s*/, double /*sd_s*/) {}

void example() {
  // the example begins
  const bothways::Log log = bothways::read_log("ride.gpx");
  const bothways::SpeedSeries speed = bothways::speed_series(log);
  const auto splits = bothways::parse_splits("0-30 mph, 60 ft");
  for (const bothways::Run& run : bothways::find_runs(speed, {.splits = splits}).accepted)
    use(run.splits.front().rollout.value, run.splits.front().rollout.sd);
  // the example ends
}

std::string trimmed(const std::string& line) {
  const std::size_t first = line.find_first_not_of(' ');
  return first == std::string::npos ? std::string() : line.substr(first);
}

std::vector<std::string> compiled_example() {
  std::vector<std::string> lines;
  bool inside = false;
  for (const std::string& line : docs::lines_of(docs::root() / "tests/docs/example_test.cpp")) {
    const std::string text = trimmed(line);
    if (text.starts_with("// the example ")) {
      inside = text.ends_with("begins");
    } else if (inside) {
      lines.push_back(text);
    }
  }
  return lines;
}

/// The public headers that a stage's CMakeLists.txt lists.
std::vector<std::string> public_headers(const std::filesystem::path& list) {
  std::string text;
  for (const std::string& line : docs::lines_of(list)) {
    text += line.substr(0, line.find('#')) + " ";
  }
  std::vector<std::string> headers;
  bool inside = false;
  std::istringstream words(text);
  for (std::string word; words >> word;) {
    word.erase(std::remove(word.begin(), word.end(), ')'), word.end());
    if (word == "HEADERS" || word == "PRIVATE") {
      inside = word == "HEADERS";
    } else if (inside && word.ends_with(".hpp")) {
      headers.push_back(list.parent_path().filename().string() + "/" + word);
    }
  }
  return headers;
}

}  // namespace

TEST_CASE("the example of bothways.hpp and README.md is the one that is compiled", "[docs]") {
  const std::vector<std::string> compiled = compiled_example();
  REQUIRE(compiled.size() == 5);
  std::vector<std::string> in_header;
  for (const std::string& line : docs::lines_of(docs::root() / "lib/bothways/bothways.hpp")) {
    if (line.starts_with("///     ")) {
      in_header.push_back(trimmed(line.substr(3)));
    }
  }
  CHECK(in_header == compiled);

  std::vector<std::string> in_readme;
  for (const std::string& line : docs::fenced_in(docs::root() / "README.md")) {
    const bool is_cmake = line.starts_with("target_link_libraries");
    if (!is_cmake &&
        (line.find("bothways::") != std::string::npos || line.find("use(") != std::string::npos)) {
      in_readme.push_back(trimmed(line));
    }
  }
  CHECK(in_readme == compiled);
}

TEST_CASE("the example gets as far as its log, which is not there", "[docs]") {
  CHECK_THROWS_AS(example(), bothways::LogError);
}

TEST_CASE("the map includes every public header", "[docs]") {
  const auto map = docs::lines_of(docs::root() / "lib/bothways/bothways.hpp");
  std::size_t count = 0;
  for (const auto& list : docs::files_in("lib/bothways", {"CMakeLists.txt"})) {
    for (const std::string& header : public_headers(list)) {
      const std::string include = "#include \"bothways/" + header + "\"";
      INFO(include);
      CHECK(std::any_of(map.begin(), map.end(),
                        [&include](const std::string& line) { return line.starts_with(include); }));
      ++count;
    }
  }
  CHECK(count > 10);
}
