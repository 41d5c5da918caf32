#include "bothways/report/text.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/rows.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;

namespace {

std::string text(const Table& table, const TextOptions& options = {}) {
  std::ostringstream out;
  write_text(out, table, options);
  return out.str();
}

}  // namespace

TEST_CASE("figures stand to the right, text to the left, and empty columns are not shown", "[report]") {
  const Table table{"t",
                    {{"run", "", ColumnKind::number},
                     {"where", ""},
                     {"nothing", ""},
                     {"", "s", ColumnKind::estimate, "0-30 mph"}},
                    {{Number{1, 0}, std::string("here"), Cell(), Estimate{5.1234, 0.0153, 5.0934, 5.1534}},
                     {Number{12, 0}, std::string("a\nb"), Cell(), Cell()}}};
  CHECK(text(table) ==
        "run  where      0-30 mph\n"
        "  1  here    5.12 ± 0.03\n"
        " 12  a\\x0ab\n");
}

TEST_CASE("points in time round to the decimals that are shown", "[report]") {
  const Table table{"t", {{"start", ""}}, {{TimeCell{{1'777'887'012'960'000}}}}};  // 09:30:12.96
  const auto shown = [&](int decimals) {
    return text(table, {.times_only = true, .time_decimals = decimals});
  };
  CHECK(shown(0) == "start\n09:30:13\n");
  CHECK(shown(1) == "start\n09:30:13.0\n");
  CHECK(shown(2) == "start\n09:30:12.96\n");
}

TEST_CASE("no line of any table is wider than asked", "[report]") {
  Result result = sample_result();
  result.rides[1].path = std::string(200, 'x');
  for (const std::size_t keys : {std::size_t{0}, std::size_t{3}}) {
    for (const Table& table :
         {runs_table(result), wide_runs_table(result), pairs_table(result), fixes_table(sample_log(3))}) {
      std::istringstream lines(text(table, {.keys = keys}));
      for (std::string line; std::getline(lines, line);) {
        CAPTURE(table.name, line);
        CHECK(display_width(line) <= 80);
      }
    }
  }
}

TEST_CASE("a heading that is longer than the line is shortened, figures are not", "[report]") {
  const Table table{"t",
                    {{"split", ""}, {"", "s", ColumnKind::estimate, std::string(100, 'x')}},
                    {{std::string("0-30 mph"), Estimate{5.1234, 0.0153, 5.0934, 5.1534}}}};
  const std::string heading = "split     " + std::string(29, 'x') + "…\n";
  CHECK(text(table, {.width = 40, .keys = 1}) ==
        heading + "0-30 mph  " + std::string(19, ' ') + "5.12 ± 0.03\n");
}

TEST_CASE("a table without room says which columns it leaves out", "[report]") {
  const std::string shown = text(runs_table(sample_result()));
  CHECK(shown.find("Not shown for lack of room:") != std::string::npos);
}

TEST_CASE("a folded table repeats its first columns and shows every column once", "[report]") {
  Table table{"t", {{"run", "", ColumnKind::number}}, {{Number{7, 0}}}};
  for (int i = 0; i < 12; ++i) {
    table.columns.push_back({"", "s", ColumnKind::estimate, "split " + std::to_string(i)});
    table.rows[0].push_back(Estimate{5.1234, 0.0153, 5.0934, 5.1534});
  }
  const std::string shown = text(table, {.keys = 1});
  for (int i = 0; i < 12; ++i) {
    const std::string name = "split " + std::to_string(i);
    CHECK(shown.find(name) != std::string::npos);
  }
  CHECK(shown.find("Not shown") == std::string::npos);
}
