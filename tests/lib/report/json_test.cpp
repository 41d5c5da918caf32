#include "bothways/report/json.hpp"

#include "bothways/report/rows.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <sstream>
#include <string>
#include <utility>
#include <vector>

using namespace bothways;
using nlohmann::json;

TEST_CASE("a table becomes one JSON object and its rows JSON lines", "[report]") {
  const Table table = runs_table(sample_result());
  std::ostringstream whole;
  write_json(whole, table, "rollout");
  const json document = json::parse(whole.str());
  CHECK(document["schema"] == "bothways/1");
  CHECK(document["table"] == "runs");
  CHECK(document["clock"] == "rollout");
  std::ostringstream lines;
  write_jsonl(lines, table);
  std::istringstream in(lines.str());
  std::size_t row = 0;
  for (std::string line; std::getline(in, line);) {
    CHECK(json::parse(line) == document["rows"][row++]);
  }
  CHECK(row == document["rows"].size());
  CHECK(document["rows"][0]["run"].is_number_integer());
  CHECK(document["rows"][0]["time_s"] == 5.123);
  CHECK_FALSE(document["rows"][6].contains("lat_deg"));  // unknown place
}

TEST_CASE("strings are valid JSON whatever bytes a path has", "[report]") {
  // [RFC8259] section 7: quotation mark, reverse solidus and U+0000 to U+001F must be escaped; 8.1: UTF-8.
  const std::string path("a\"b\\c\x01\n\xff\xc3\xa9", 10);
  const Table table{"t", {{"log", ""}}, {{path}}};
  std::ostringstream out;
  write_jsonl(out, table);
  CHECK(out.str() == "{\"log\":\"a\\\"b\\\\c\\u0001\\n\\\\xff\xc3\xa9\"}\n");
  CHECK(json::parse(out.str())["log"] == "a\"b\\c\x01\n\\xff\xc3\xa9");
}

TEST_CASE("figures in JSON have the value that is written, and no digit more", "[report]") {
  const std::vector<std::pair<Number, std::string>> cases{{{-125.248151, 7}, "-125.248151"},
                                                          {{5.1, 3}, "5.1"},
                                                          {{5.0, 3}, "5.0"},
                                                          {{0.0, 3}, "0.0"},
                                                          {{-0.0001, 3}, "0.0"},
                                                          {{0.00004, 7}, "4e-05"},
                                                          {{0.0012, 7}, "0.0012"},
                                                          {{1777593629.2, 3}, "1777593629.2"},
                                                          {{-0.2, 0}, "0"},
                                                          {{12.0, 0}, "12"},
                                                          {{120.0, 1}, "120.0"}};
  Table table{"one", {{"x", "", ColumnKind::number}}, {}};
  std::string expected;
  for (const auto& [number, text] : cases) {
    table.rows.push_back({number});
    expected += R"({"x":)" + text + "}\n";
  }
  std::ostringstream lines;
  write_jsonl(lines, table);
  CHECK(lines.str() == expected);
}

TEST_CASE("figures that are not finite are absent", "[report]") {
  const Table table{"t",
                    {{"v", "mps", ColumnKind::number}, {"", "s", ColumnKind::estimate}},
                    {{Number{nan_value, 2}, Estimate{1, infinite, 0, 2}}}};
  std::ostringstream out;
  write_jsonl(out, table);
  CHECK(out.str() == "{}\n");
}
