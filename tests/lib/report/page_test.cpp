#include "bothways/report/page/page.hpp"

#include "bothways/report/page/charts.hpp"
#include "bothways/report/page/html.hpp"
#include "bothways/report/page/words.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <set>
#include <sstream>
#include <string>

using namespace bothways;

namespace {

std::string bytes(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

/// Words alone, whatever the line breaks and emphasis between them.
std::string words_of(std::string text) {
  for (char& c : text) {
    c = c == '\n' ? ' ' : c;
  }
  std::string out;
  for (const char c : text) {
    if (!(c == ' ' && out.ends_with(' '))) {
      out += c;
    }
  }
  return out;
}

ChartPlan full_plan(bool compared) {
  ChartPlan plan{.compared = compared, .has_power = true, .has_pulls = true, .has_pairs = true};
  plan.groups = compared
                    ? std::vector<std::string>{"before, out", "before, back", "after, out", "after, back"}
                    : std::vector<std::string>{"out", "back"};
  plan.sides = compared ? std::vector<std::string>{"before", "after"} : std::vector<std::string>{""};
  plan.logs = {"ride.gpx"};
  plan.map_half_m = 100.0;
  return plan;
}

}  // namespace

TEST_CASE("text for HTML has no character left that HTML reads as its own", "[report]") {
  CHECK(html_text("<a href=\"x\">'&") == "&lt;a href=&quot;x&quot;&gt;&#39;&amp;");
  CHECK(html_text("a\nb\x1b[1m") == "a\\x0ab\\x1b[1m");
  CHECK(html_text("\xE2\x80\xAE"
                  "evil") == "\\u202eevil");
  CHECK(html_text("\xFF") == "\\xff");
  CHECK(html_text("5 m/s² ±") == "5 m/s² ±");
  CHECK(html_text_lines("a<b\r\nc\n") == "a&lt;b\nc\n");
}

TEST_CASE("JSON for a script element cannot end it", "[report]") {
  const std::string json = R"({"a":"</script><!--&"})";
  const std::string safe = json_in_html(json);
  CHECK(safe.find_first_of("<>&") == std::string::npos);
  CHECK(nlohmann::json::parse(safe) == nlohmann::json::parse(json));
}

TEST_CASE("a table of a page has its texts escaped and its first column as heads", "[report]") {
  const std::string table = html_table("times <s>", {"run", "t"}, {{"1", "4 < 5"}});
  CHECK(table.find("<caption>times &lt;s&gt;</caption>") != std::string::npos);
  CHECK(table.find("<th scope=\"row\">1</th><td>4 &lt; 5</td>") != std::string::npos);
}

TEST_CASE("the page's cautions are those of README", "[report]") {
  const std::string readme = words_of(bytes(std::string(BOTHWAYS_SOURCE_DIR) + "/README.md"));
  const std::size_t from = readme.find("## Cautions");
  const std::string section = readme.substr(from, readme.find("## Limits") - from);
  std::size_t length = std::string("## Cautions").size();
  for (const std::string_view caution : cautions()) {
    CAPTURE(caution);
    CHECK(section.find("- " + std::string(caution)) != std::string::npos);
    length += caution.size() + 3;
  }
  CHECK(section.size() <= length + 2);  // and README has no others
  CHECK(method_in_short().size() == 3);
}

TEST_CASE("the splits offered are those between round speeds, and those asked", "[report]") {
  const auto names_of = [](const std::vector<SplitSpec>& splits) {
    std::set<std::string> names;
    for (const SplitSpec& split : splits) {
      names.insert(split.name);
    }
    return names;
  };
  const auto mph = names_of(splits_to_offer(parse_splits("0-33 mph, 60 ft"), false));
  for (const char* name :
       {"0-5 mph", "0-60 mph", "5-10 mph", "30-33 mph", "0-33 mph", "33-40 mph", "60 ft"}) {
    CHECK(mph.count(name) == 1);
  }
  const auto kmh = names_of(splits_to_offer(parse_splits("0-50 km/h"), true));
  CHECK(kmh.count("0-50 km/h") == 1);
  CHECK(kmh.count("50-100 km/h") == 1);
  CHECK(kmh.count("0-30 mph") == 0);
  CHECK(mph.size() < 300);  // each is timed for each run
}

TEST_CASE("the charts of a page are as they were looked at", "[report]") {
  const std::string path = std::string(BOTHWAYS_SOURCE_DIR) + "/tests/lib/report/page_charts.json";
  nlohmann::ordered_json all;
  for (const bool compared : {false, true}) {
    for (const Chart& chart : charts_of(full_plan(compared))) {
      all[compared ? "compared" : "ride"][chart.id] = {
          {"title", chart.title}, {"caption", chart.caption}, {"spec", chart.spec}};
    }
  }
  const std::string text = all.dump(1) + "\n";
  if (std::getenv("BOTHWAYS_UPDATE_GOLDEN") != nullptr) {
    std::ofstream(path, std::ios::binary) << text;
  }
  CHECK(text == bytes(path));
}

TEST_CASE("every colour of the charts is there for paper and for a dark screen", "[report]") {
  const auto all = palettes();
  for (const auto& [name, colour] : all["light"].items()) {
    CAPTURE(name);
    REQUIRE(all["dark"].contains(name));
    CHECK(all["dark"][name].size() == colour.size());
  }
}

TEST_CASE("a chart that is drawn has a title, a caption and data by name", "[report]") {
  for (const bool compared : {false, true}) {
    std::set<std::string> ids;
    for (const Chart& chart : charts_of(full_plan(compared))) {
      CAPTURE(chart.id);
      CHECK(ids.insert(chart.id).second);
      CHECK_FALSE(chart.title.empty());
      CHECK(chart.caption.ends_with('.'));
      CHECK_FALSE(chart.spec["data"].empty());
      CHECK_FALSE(chart.spec["marks"].empty());
      for (const auto& data : chart.spec["data"]) {
        CHECK_FALSE(data.contains("url"));  // nothing is fetched
      }
    }
    CHECK(ids.count("difference") == (compared ? 1 : 0));
  }
  CHECK(charts_of({}).empty());
}
