#include "bothways/report/csv.hpp"

#include "bothways/report/rows.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;

namespace {

std::string csv(const Table& table) {
  std::ostringstream out;
  write_csv(out, table);
  return out.str();
}

}  // namespace

TEST_CASE("cells are quoted as RFC 4180 has it", "[report]") {
  // [RFC4180] section 2, rules 5 to 7: "aaa","b""bb","ccc" and a comma inside quotes.
  CHECK(csv_field("aaa") == "aaa");
  CHECK(csv_field("b\"bb") == "\"b\"\"bb\"");
  CHECK(csv_field("b,bb") == "\"b,bb\"");
  CHECK(csv_field("") == "");
  // Rule 6 allows a line break inside quotes; here it is escaped so that a record is one line.
  CHECK(csv_field("b\r\nbb") == "b\\x0d\\x0abb");
}

TEST_CASE("text that a spreadsheet would run as a formula is made harmless", "[report]") {
  CHECK(csv_field("=1+1") == "'=1+1");
  CHECK(csv_field("+1") == "'+1");
  CHECK(csv_field("-2+3") == "'-2+3");
  CHECK(csv_field("@SUM(A1)") == "'@SUM(A1)");
  CHECK(csv_field("\t=1") == "\\x09=1");
  CHECK(csv_field("=HYPERLINK(\"a\",\"b\")") == "\"'=HYPERLINK(\"\"a\"\",\"\"b\"\")\"");
  CHECK(csv_field("-") == "-");
}

TEST_CASE("a table has its names with units first and ends every line with CRLF", "[report]") {
  const Table table{"t",
                    {{"at", "", ColumnKind::time},
                     {"", "s", ColumnKind::estimate},
                     {"movement", "s", ColumnKind::estimate},
                     {"v", "mps", ColumnKind::number},
                     {"text", ""}},
                    {{TimeCell{{1777887012340000}}, Estimate{5.1234, 0.02, 5.08, 5.16}, Cell(),
                      Number{-3.0, 1}, std::string("a,b")},
                     {Cell(), Estimate{nan_value, 1, 2, 3}, Cell(), Number{infinite, 1}, Cell()}}};
  CHECK(
      csv(table) ==
      "at,at_unix_s,time_s,sd_s,lo95_s,hi95_s,movement_time_s,movement_sd_s,movement_lo95_s,movement_hi95_s,"
      "v_mps,text\r\n"
      "2026-05-04T09:30:12.340Z,1777887012.340,5.123,0.020,5.080,5.160,,,,,-3.0,\"a,b\"\r\n"
      ",,,,,,,,,,,\r\n");
}

TEST_CASE("a cell of the wrong kind is refused", "[report]") {
  const Table table{"t", {{"v", "mps", ColumnKind::number}}, {{std::string("fast")}}};
  CHECK_THROWS_AS(csv(table), std::invalid_argument);
}

TEST_CASE("the runs table names the clock in every row", "[report]") {
  const Table table = runs_table(sample_result());
  std::istringstream lines(csv(table));
  std::string line;
  std::getline(lines, line);
  CHECK(line.find("clock") != std::string::npos);
  CHECK(line.find("time_s") != std::string::npos);
  int rows = 0;
  while (std::getline(lines, line)) {
    ++rows;
    CHECK(line.find(",rollout,") != std::string::npos);
  }
  CHECK(rows == 7);  // 3 + 3 + 1 splits
}
