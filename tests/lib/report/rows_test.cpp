#include "bothways/report/rows.hpp"

#include "bothways/report/contract.hpp"
#include "bothways/report/csv.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cstdlib>
#include <map>
#include <sstream>

using namespace bothways;
using nlohmann::json;

TEST_CASE("each row of a table is as long as its columns", "[report]") {
  const Result result = sample_result();
  SpeedSeries series;
  series.stretches = {{{1777887012340000},
                       {0.0, 0.1},
                       {0.0, 1.0},
                       {0.1, 0.1},
                       {0.0, 0.1},
                       {0.0, 0.0},
                       {unknown, 3.0},
                       {Validity::valid, Validity::spike},
                       {0.0, 0.5},
                       {1, 0}}};
  for (const Table& table :
       {runs_table(result), wide_runs_table(result), pairs_table(result), fixes_table(sample_log(3)),
        stretch_table(series.stretches[0], 1, SpeedSource::reported, "x", true)}) {
    CAPTURE(table.name);
    CHECK_FALSE(table.rows.empty());
    for (const auto& row : table.rows) {
      CHECK(row.size() == table.columns.size());
    }
    std::ostringstream out;
    CHECK_NOTHROW(write_csv(out, table));  // every cell is of its column's kind
  }
}

TEST_CASE("a table to keep has a row a result and says of what kind, day and set-up it is", "[report]") {
  Result result = sample_result();
  result.rides[0].conditions = Conditions{.file = "c.ini", .setup = "new springs", .total_mass_kg = 200.0};
  const Table table = results_table(result, true);
  const auto column = [&](const std::string& name) {
    const auto found = std::find_if(table.columns.begin(), table.columns.end(),
                                    [&](const Column& c) { return c.name == name; });
    REQUIRE(found != table.columns.end());
    return static_cast<std::size_t>(found - table.columns.begin());
  };
  std::map<std::string, int> kinds;
  for (const auto& row : table.rows) {
    ++kinds[std::get<std::string>(row[column("kind")])];
    CHECK(std::get<std::string>(row[column("date")]) == "2026-05-04");
    CHECK(std::holds_alternative<Number>(row[column("time_s")]));
  }
  CHECK(kinds == std::map<std::string, int>{{"run", 7}, {"pair", 1}, {"overall", 1}});
  CHECK(std::get<std::string>(table.rows.front()[column("setup")]) == "new springs");
  CHECK(std::get<std::string>(table.rows.back()[column("setup")]) == "new springs");
  CHECK(std::get<Number>(table.rows.back()[column("total_mass_kg")]).value == 200.0);
  CHECK(std::holds_alternative<std::monostate>(table.rows[6][column("setup")]));  // of the other log
  CHECK(results_table(result, false).rows.size() == 2);
}

TEST_CASE("fixes can be written in parts", "[report]") {
  const Log log = sample_log(10);
  CHECK(fixes_table(log, 0, 4).rows.size() == 4);
  CHECK(fixes_table(log, 8, 4).rows.size() == 2);
  CHECK(fixes_table(log, 12, 4).rows.empty());
}

TEST_CASE("text, CSV and JSON carry the same numbers", "[report]") {
  const Result result = sample_result();
  std::ostringstream json_out;
  write_result_json(json_out, result);
  const json document = json::parse(json_out.str());
  std::ostringstream csv_out;
  write_csv(csv_out, runs_table(result));
  std::ostringstream text_out;
  write_summary(text_out, result, {});
  const std::string csv = csv_out.str();
  const std::string text = text_out.str();
  std::map<std::string, std::vector<Estimate>> columns;  // decimals are alike down a column
  for (const json& log : document["logs"]) {
    for (const json& run : log["runs"]) {
      for (const json& split : run["splits"]) {
        columns[split["name"]].push_back({split["time_s"], split["sd_s"], split["lo95_s"], split["hi95_s"]});
      }
    }
  }
  int seen = 0;
  for (const json& log : document["logs"]) {
    for (const json& run : log["runs"]) {
      for (const json& split : run["splits"]) {
        const double time_s = split["time_s"];
        const double lo_s = split["lo95_s"];
        const double hi_s = split["hi95_s"];
        const std::string record = split["name"].get<std::string>() + "," + fixed(time_s, 3) + "," +
                                   fixed(split["sd_s"], 3) + "," + fixed(lo_s, 3) + "," + fixed(hi_s, 3) +
                                   ",";
        CAPTURE(record);
        CHECK(csv.find(record) != std::string::npos);
        // What people read must follow from the printed JSON figures alone.
        const int decimals = common_decimals(columns.at(split["name"]));
        CHECK(text.find(plus_minus({time_s, split["sd_s"], lo_s, hi_s}, decimals)) != std::string::npos);
        ++seen;
      }
    }
  }
  CHECK(seen == 7);
}
