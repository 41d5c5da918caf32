// Comparing through the program: what holds whatever the figures are.
#include "bothways/report/escape.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <map>
#include <regex>
#include <sstream>

using namespace bothways::cli;
using Json = nlohmann::json;

namespace {

using Words = std::vector<std::string>;

const Words first_side{"fixtures/before-after/before"};
const Words second_side{"fixtures/before-after/after"};
const Words two_logs{"fixtures/two-logs/1-out.nmea", "fixtures/two-logs/2-back.nmea"};
const Words other_order{"fixtures/two-logs/2-back.nmea", "fixtures/two-logs/1-out.nmea"};

Outcome compared(const Words& before, const Words& after, const Words& more = {}) {
  Words arguments{"compare", "--before"};
  arguments.insert(arguments.end(), before.begin(), before.end());
  arguments.emplace_back("--after");
  arguments.insert(arguments.end(), after.begin(), after.end());
  arguments.insert(arguments.end(), more.begin(), more.end());
  return call(arguments);
}

Json json_of(const Words& before, const Words& after) {
  return Json::parse(compared(before, after, {"--format", "json"}).out);
}

double without_minus_zero(double value) {
  return value == 0.0 ? 0.0 : value;
}

std::string opposite_sign(const std::string& number) {
  return number[0] == '-' ? "+" + number.substr(1) : number[0] == '+' ? "-" + number.substr(1) : number;
}

/// The sentence that the exchanged comparison should say.
std::string exchanged_text(const std::string& text) {
  static const std::regex between(R"((.*between )([-+0-9.]+)( and )([-+0-9.]+)( s.*))");
  if (std::smatch m; std::regex_match(text, m, between)) {
    return m[1].str() + opposite_sign(m[4]) + m[3].str() + opposite_sign(m[2]) + m[5].str();
  }
  const bool quicker = text.find("quicker") != std::string::npos;
  return quicker ? std::regex_replace(text, std::regex("quicker"), "slower")
                 : std::regex_replace(text, std::regex("slower"), "quicker");
}

/// A difference as it should be when the sides are exchanged.
Json exchanged(const Json& difference) {
  Json other = difference;
  for (const char* key : {"s", "sd_s", "lo95_s", "hi95_s"}) {
    other["before_" + std::string(key)] = difference["after_" + std::string(key)];
    other["after_" + std::string(key)] = difference["before_" + std::string(key)];
  }
  for (const char* key : {"pairs_", "days_"}) {
    other[key + std::string("before")] = difference[key + std::string("after")];
    other[key + std::string("after")] = difference[key + std::string("before")];
  }
  other["difference_s"] = without_minus_zero(-difference["difference_s"].get<double>());
  other["lo95_s"] = without_minus_zero(-difference["hi95_s"].get<double>());
  other["hi95_s"] = without_minus_zero(-difference["lo95_s"].get<double>());
  if (difference["verdict"] != "cannot-tell") {
    other["verdict"] = difference["verdict"] == "quicker" ? "slower" : "quicker";
  }
  other["text"] = exchanged_text(difference["text"]);
  return other;
}

}  // namespace

TEST_CASE("exchanging before and after flips the signs and nothing else", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const auto& [one, other] : {std::pair{first_side, second_side}, std::pair{first_side, two_logs}}) {
    const Json forth = json_of(one, other);
    const Json back = json_of(other, one);
    REQUIRE(forth["differences"].size() == 4);
    REQUIRE(back["differences"].size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
      Json there = exchanged(forth["differences"][i]);
      Json here_again = back["differences"][i];
      for (const char* key : {"more_pairs", "more_pairs_show_s"}) {  // rounding may tip a power of just 0.8
        there.erase(key);
        here_again.erase(key);
      }
      CHECK(there == here_again);
    }
    CHECK(forth["sides"][0]["logs"] == back["sides"][1]["logs"]);
    CHECK(forth["sides"][1]["logs"] == back["sides"][0]["logs"]);
    CHECK(forth["warnings"].size() == back["warnings"].size());
  }
}

TEST_CASE("the order of the files of a side and the number of jobs change no byte", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const char* format : {"text", "csv", "json", "jsonl"}) {
    const Outcome one = compared(two_logs, second_side, {"--format", format, "--jobs", "1"});
    CHECK(one.code == Exit::ok);
    CHECK(one.out == compared(other_order, second_side, {"--format", format, "--jobs", "1"}).out);
    CHECK(one.out == compared(two_logs, second_side, {"--format", format, "--jobs", "5"}).out);
    CHECK(one.out == compared({"fixtures/two-logs"}, second_side, {"--format", format}).out);
  }
}

TEST_CASE("the comparison in JSON has every key of the contract, and only finite figures in order", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const auto& [one, other] :
       {std::pair{first_side, second_side}, std::pair{Words{two_logs[0]}, two_logs},
        std::pair{first_side, Words{"fixtures/phone-1hz"}}}) {
    if (one == Words{two_logs[0]}) {
      CHECK(compared(one, other).code == Exit::usage);  // a log belongs to one side
      continue;
    }
    const Json all = json_of(one, other);
    CHECK(all["schema"] == "bothways/1");
    CHECK(all["warnings"].is_array());
    REQUIRE_FALSE(all["differences"].empty());
    for (const Json& row : all["differences"]) {
      for (const char* key : {"before_s", "after_s", "difference_s", "lo95_s", "hi95_s", "p_value"}) {
        CAPTURE(key);
        CHECK(row.at(key).is_number());
      }
      CHECK(row["lo95_s"] <= row["difference_s"]);
      CHECK(row["difference_s"] <= row["hi95_s"]);
      CHECK(row["pairs_before"] >= 1);
      CHECK(row["pairs_after"] >= 1);
      CHECK((row["verdict"] == "quicker" || row["verdict"] == "slower" || row["verdict"] == "cannot-tell"));
      CHECK(row["text"].get<std::string>().starts_with(row["name"].get<std::string>() + ": "));
    }
  }
}

TEST_CASE("the known change of the fixture is inside the interval of each split", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json all = json_of(first_side, second_side);
  std::istringstream truth(bytes_of("fixtures/before-after/case.txt"));
  std::size_t checked = 0;
  for (std::string line; std::getline(truth, line);) {
    static const std::regex change(R"(change +(.+?)  ([-0-9.]+) s .*)");
    std::smatch m;
    if (!std::regex_match(line, m, change)) {
      continue;
    }
    for (const Json& row : all["differences"]) {
      if (row["name"] == m[1].str()) {
        CAPTURE(line);
        CHECK(row["lo95_s"] <= std::stod(m[2]));
        CHECK(std::stod(m[2]) <= row["hi95_s"]);
        ++checked;
      }
    }
  }
  CHECK(checked == 4);
}

TEST_CASE("sentence and table of a comparison round alike, in every unit and clock", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  std::size_t all_checked = 0;
  for (const Words& more : {Words{}, Words{"--units", "kmh"}, Words{"--clock", "movement"},
                            Words{"--splits", "0-20 mph, 0-25 mph, 0-35 mph, 0-45 mph, 60 ft, 100 m"}}) {
    std::istringstream lines(compared(first_side, second_side, more).out);
    std::map<std::string, std::string> told;
    std::size_t checked = 0;
    for (std::string line; std::getline(lines, line);) {
      static const std::regex sentence(R"(  (.+): (quicker|slower) by ([0-9.]+) s .*)");
      static const std::regex row(R"((.+?)  +.* ± .* ± .*  ([-+0-9.]+) +± .*)");
      std::smatch m;
      if (std::regex_match(line, m, sentence)) {
        told[m[1]] = (m[2] == "quicker" ? "-" : "+") + m[3].str();
      } else if (std::regex_match(line, m, row) && told.count(m[1]) > 0) {
        CHECK(told[m[1]] == m[2]);
        ++checked;
      }
    }
    CHECK(checked == told.size());
    all_checked += checked;
  }
  CHECK(all_checked >= 3);
}

TEST_CASE("the comparison in text fits 80 columns and escapes what sides and logs are called", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const TemporaryFolder folder;
  const std::string log = folder.file("odd\x1b[31m.nmea", bytes_of(two_logs[0]) + bytes_of(two_logs[1]));
  for (const Words& arguments :
       {Words{"compare", "--side", "a\x1b[2J=" + log, "--side", "\xc3\xa9t\xc3\xa9 \xff=" + second_side[0]},
        Words{"compare", "--before", log, "--after", second_side[0], "--explain"}}) {
    const Outcome outcome = call(arguments);
    CHECK(outcome.code == Exit::ok);
    std::istringstream lines(outcome.out);
    for (std::string line; std::getline(lines, line);) {
      CAPTURE(line);
      CHECK(bothways::display_width(line) <= 80);
      CHECK(bothways::escaped(line) == line);
    }
  }
}
