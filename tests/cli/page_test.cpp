// The figures of the page are those of the JSON and of the text.
#include "cli/page_support.hpp"

#include <catch2/catch.hpp>

#include <iterator>
#include <regex>
#include <string>
#include <utility>
#include <vector>

namespace {

/// The figures that the page shows and those of the JSON contract are the same, to the last digit.
void check_same(const Json& shown, const Json& row) {
  CAPTURE(shown.dump(), row.dump());
  if (row.is_null()) {
    CHECK(shown.is_null());
    return;
  }
  REQUIRE(shown.is_array());
  CHECK(shown[0] == row["time_s"]);
  CHECK(shown[1] == row["sd_s"]);
  CHECK(shown[2] == row["lo95_s"]);
  CHECK(shown[3] == row["hi95_s"]);
}

void check_ride(const Json& page, const Json& result, const std::string& name) {
  CAPTURE(name);
  const Json& split = named(page["splits"], name);
  REQUIRE_FALSE(split.is_null());
  const Json& side = split["sides"][0];
  std::size_t run = 0;
  std::size_t pair = 0;
  for (const Json& log : result["logs"]) {
    for (const Json& row : log["runs"]) {
      check_same(side["runs"][run++], named(row["splits"], name));
    }
    for (const Json& row : log["pairs"]) {
      check_same(side["pairs"][pair++], named(row["splits"], name));
    }
  }
  CHECK(run == side["runs"].size());
  CHECK(pair == side["pairs"].size());
  check_same(side["overall"], named(result["overall"], name));
}

}  // namespace

TEST_CASE("the figures of a page are those of the JSON with the same splits", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  for (const std::string ride : {"fixtures/demo", "fixtures/phone-1hz", "fixtures/town-scooter"}) {
    CAPTURE(ride);
    const std::vector<std::string> arguments{ride, "--splits", "0-20 mph, 0-30 mph, 10-30 mph, 60 ft"};
    const Json page = data_of(page_of(arguments));
    const Json result = json_of(arguments);
    for (const char* name : {"0-20 mph", "0-30 mph", "10-30 mph", "60 ft"}) {
      check_ride(page, result, name);
    }
  }
}

TEST_CASE("other marks on a page have the figures of the JSON with these marks alone", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json page = data_of(page_of({"fixtures/demo", "--splits", "0-30 mph"}));
  // A lower first mark would make runs of more starts, so none is below 30 mph.
  for (const char* name : {"0-35 mph", "0-40 mph", "0-45 mph", "330 ft"}) {
    check_ride(page, json_of({"fixtures/demo", "--splits", name}), name);
  }
  // A split from mark to mark cannot be asked alone; with the way to its first mark it has the same marks.
  check_ride(page, json_of({"fixtures/demo", "--splits", "0-30 mph, 30-45 mph"}), "30-45 mph");
}

TEST_CASE("other marks on a page have the times of the runs that the command line has beside the first mark",
          "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json page = data_of(page_of({"fixtures/demo", "--splits", "0-30 mph"}));
  const Json result = json_of({"fixtures/demo", "--splits", "0-30 mph, 0-35 mph, 10-25 mph, 20-45 mph"});
  for (const char* name : {"0-35 mph", "10-25 mph", "20-45 mph"}) {
    std::size_t run = 0;
    for (const Json& row : result["logs"][0]["runs"]) {
      check_same(named(page["splits"], name)["sides"][0]["runs"][run++], named(row["splits"], name));
    }
    CHECK(run == 6);
  }
}

TEST_CASE("the differences on a page are those of the JSON", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  std::vector<std::string> sides(std::begin(before_after), std::end(before_after));
  const Json page = data_of(page_of(sides));
  const auto check = [&](const Json& result, const std::string& name) {
    CAPTURE(name);
    const Json& shown = named(page["splits"], name)["differences"][0];
    for (const Json& row : result["differences"]) {
      if (row["name"] == name) {
        CHECK(shown[0] == row["difference_s"]);
        CHECK(shown[1] == row["sd_s"]);
        CHECK(shown[2] == row["lo95_s"]);
        CHECK(shown[3] == row["hi95_s"]);
        return;
      }
    }
    FAIL("no such difference");
  };
  sides.insert(sides.begin(), "compare");
  const Json asked = json_of(sides);
  check(asked, "0-30 mph");
  check(asked, "30-50 mph");
  sides.insert(sides.end(), {"--splits", "0-25 mph"});
  check(json_of(sides), "0-25 mph");
}

TEST_CASE("every time with its interval in the text stands on the page with the same digits", "[cli]") {
  if (!has_charts()) {
    return;
  }
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::regex figure("([0-9.]+) +± +([0-9.]+)");
  const std::vector<std::string> sides(std::begin(before_after), std::end(before_after));
  const std::vector<std::pair<std::vector<std::string>, std::vector<std::string>>> calls{
      {{"fixtures/demo"}, {"fixtures/demo"}},
      {{"fixtures/phone-1hz"}, {"fixtures/phone-1hz"}},
      {{"compare", before_after[1], before_after[3]}, sides}};
  for (const auto& [text_of, page_arguments] : calls) {
    const std::string text = call(text_of).out;
    const std::string page = page_of(page_arguments);
    std::size_t figures = 0;
    for (std::sregex_iterator it(text.begin(), text.end(), figure), end; it != end; ++it) {
      CAPTURE(it->str());
      CHECK(page.find((*it)[1].str() + " ± " + (*it)[2].str()) != std::string::npos);
      ++figures;
    }
    CHECK(figures > 10);
  }
}
