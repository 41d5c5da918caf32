// What a rider reads first, how wide, in which colours, and what is never hidden.
#include "bothways/report/escape.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <map>
#include <regex>
#include <set>
#include <sstream>

using namespace bothways::cli;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::istringstream in(text);
  std::vector<std::string> lines;
  for (std::string line; std::getline(in, line);) {
    lines.push_back(line);
  }
  return lines;
}

/// On a terminal of so many columns.
std::string on_terminal(const std::vector<std::string>& arguments, std::size_t width, bool colour = false) {
  std::istringstream in;
  std::ostringstream out;
  std::ostringstream err;
  (void)run(arguments,
            {.in = in, .out = out, .err = err, .out_is_terminal = true, .colour = colour, .width = width});
  return out.str();
}

/// Numbers of decimals of the values in a column of estimates, "4.51 ± 0.04".
std::map<std::size_t, std::set<std::size_t>> decimals_by_column(const std::vector<std::string>& rows) {
  std::map<std::size_t, std::set<std::size_t>> decimals;
  static const std::regex estimate(R"((-?\d+)(\.\d+)? ± (\d+)(\.\d+)?)");
  for (const std::string& row : rows) {
    std::size_t column = 0;
    for (std::sregex_iterator at(row.begin(), row.end(), estimate), end; at != end; ++at, ++column) {
      decimals[column].insert(static_cast<std::size_t>((*at)[2].length()));
      decimals[column].insert(static_cast<std::size_t>((*at)[4].length()));
    }
  }
  return decimals;
}

const char* const standing = "tests/cli/input/standing.csv";

}  // namespace

TEST_CASE("the result stands in the first lines, the verdict in the first two", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const auto all = lines_of(call({"fixtures/demo", "--splits", "0-30 mph"}).out);
  CHECK(all.at(0) == "Result, both ways");
  CHECK_THAT(all.at(5), StartsWith("0-30 mph  4.26 ± 0.14"));
  const auto pairs = lines_of(call({"pairs", "fixtures/demo", "--splits", "0-30 mph"}).out);
  CHECK_THAT(pairs.at(5), StartsWith("0-30 mph  4.26 ± 0.14"));
  const auto compared =
      lines_of(call({"compare", "fixtures/before-after/before", "fixtures/before-after/after"}).out);
  CHECK(compared.at(0) == "Did the change help?");
  CHECK_THAT(compared.at(1), StartsWith("  0-30 mph: quicker by 0.18 s"));
  const auto runs = lines_of(call({"runs", "fixtures/demo"}).out);
  CHECK_THAT(runs.at(0), StartsWith("6 runs on 2026-05-04"));
}

TEST_CASE("text takes the width of the terminal, from 60 to 120 columns, else 80", "[cli]") {
  CHECK(width_for(0) == 80);
  CHECK(width_for(20) == 60);
  CHECK(width_for(100) == 100);
  CHECK(width_for(500) == 120);
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const std::vector<std::string>& command :
       {std::vector<std::string>{"fixtures/demo", "--explain"},
        {"fixtures/positions-5hz"},
        {"fixtures/moped"},
        {"compare", "fixtures/before-after/before", "fixtures/before-after/after", "--explain"},
        {"plan", "--detect", "0.1s", "fixtures/before-after/before"},
        {"power", "fixtures/demo", "--mass", "200kg"},
        {"trip", "fixtures/demo"},
        {"--help"},
        {"compare", "--help"}}) {
    CAPTURE(command);
    std::size_t widest = 0;
    for (const std::size_t width : {60U, 80U, 120U}) {
      widest = 0;
      for (const std::string& line : lines_of(on_terminal(command, width))) {
        widest = std::max(widest, bothways::display_width(line));
      }
      CHECK(widest <= width);
    }
    CHECK(widest > 80);  // the whole of 120 is used
  }
}

TEST_CASE("colour marks verdicts, headings and warnings, and stays out of files", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::vector<std::string> command{"compare", "fixtures/before-after/before",
                                         "fixtures/before-after/after"};
  const std::string coloured = on_terminal(command, 80, true);
  CHECK_THAT(coloured, Contains("\x1b[1m  0-30 mph: quicker") && Contains("\x1b[33mTake care: "));
  CHECK_THAT(on_terminal(command, 80, false), !Contains("\x1b"));
  const TemporaryFolder folder;
  const std::string file = (folder.path() / "out.txt").string();
  auto to_file = command;
  to_file.insert(to_file.end(), {"-o", file});
  (void)on_terminal(to_file, 120, true);
  CHECK(bytes_of(file) == on_terminal(command, 80, false));
}

TEST_CASE("decimals are alike down each column of estimates", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const char* folder :
       {"fixtures/demo", "fixtures/positions-5hz", "fixtures/phone-1hz", "fixtures/moped"}) {
    CAPTURE(folder);
    std::vector<std::string> block;
    std::size_t blocks = 0;
    for (const std::string& line : lines_of(call({folder}).out)) {
      if (line.find('\xC2') != std::string::npos && line.find("±") != std::string::npos &&
          line.find("Seconds") == std::string::npos) {
        block.push_back(line);
      } else if (line.empty()) {
        for (const auto& [column, decimals] : decimals_by_column(block)) {
          CAPTURE(block, column);
          CHECK(decimals.size() == 1);
          ++blocks;
        }
        block.clear();
      }
    }
    CHECK(blocks >= 3);
  }
}

TEST_CASE("how much road was used both ways is told where it is asked for", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  CHECK_THAT(call({"fixtures/demo"}).out, !Contains("Part of the road that both ways used"));
  CHECK_THAT(call({"fixtures/demo", "--explain"}).out,
             Contains("Part of the road that both ways used, at least:"));
}

TEST_CASE("what changes the meaning of a figure shows in every command, quiet or not", "[cli]") {
  const TemporaryFolder folder;
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const char* side : {"before", "after"}) {
    const std::string name = std::string(side) + "/ride.nmea.gz";
    (void)folder.file(name, bytes_of("fixtures/before-after/" + name));
    (void)folder.file(std::string(side) + "/conditions.ini", "temprature = 52 F\ntotal_mass = 200 kg\n");
  }
  const std::string before = (folder.path() / "before").string();
  const std::string after = (folder.path() / "after").string();
  for (const std::vector<std::string>& command : {std::vector<std::string>{before},
                                                  {before, "--quiet"},
                                                  {"runs", before, "--quiet"},
                                                  {"pairs", before},
                                                  {"compare", before, after},
                                                  {"compare", before, after, "--quiet"},
                                                  {"plan", "--detect", "0.1s", before},
                                                  {"power", before}}) {
    CAPTURE(command);
    std::string words = one_line(call(command).out);
    CHECK_THAT(words, Contains("Take care: ") && Contains("did you mean 'temperature'"));
  }
}

TEST_CASE("notes of one kind are told once, however many logs have them", "[cli]") {
  const TemporaryFolder folder;
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  std::string log = bytes_of(standing);
  for (const char* name : {"a.csv", "b.csv", "c.csv"}) {
    log += "broken\n";
    (void)folder.file(name, log);
  }
  const std::string text = call({folder.path().string()}).out;
  CHECK_THAT(text, Contains("In 3 logs, the first "));
  const std::string once = "In 3 logs";
  CHECK(text.find(once) == text.rfind(once));
}

TEST_CASE("no text speaks of doubt", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const std::vector<std::string>& command :
       {std::vector<std::string>{"fixtures/demo", "--explain"},
        {"power", "fixtures/demo", "--mass", "200kg"},
        {"compare", "fixtures/before-after/before", "fixtures/before-after/after", "--explain"}}) {
    CHECK_THAT(call(command).out, !Contains("doubt"));
  }
}
