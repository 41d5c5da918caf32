#include "bothways/report/compared.hpp"

#include "bothways/report/flat.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;

namespace {

/// The sample against itself, a tenth of a second quicker at its first split.
Compared sample_compared() {
  const Result sample = sample_result();
  Compared compared{.clock = sample.clock, .metric = sample.metric, .splits = sample.splits};
  for (const char* name : {"before", "after"}) {
    compared.sides.push_back({.name = name, .rides = sample.rides, .pairs = sample.pairs});
    compared.overall.push_back(sample.overall);
  }
  Difference row{.spec = sample.splits.front(),
                 .before = normal_estimate(5.1, 0.02),
                 .after = normal_estimate(5.0, 0.02),
                 .difference = normal_estimate(-0.1, 0.025),
                 .p_value = 0.00036,
                 .pairs_before = 1,
                 .pairs_after = 1,
                 .main = true,
                 .verdict = Verdict::quicker,
                 .text = "quicker"};
  compared.comparisons.push_back({.before = "before", .after = "after", .differences = {row}});
  return compared;
}

}  // namespace

TEST_CASE("a p-value keeps three digits however small it is, up to twelve decimals", "[report]") {
  CHECK(p_decimals(1.0) == 3);
  CHECK(p_decimals(0.04) == 4);
  CHECK(p_decimals(0.000123) == 6);
  CHECK(p_decimals(1e-40) == 12);
  CHECK(p_decimals(0.0) == 3);
}

TEST_CASE("a warning that several comparisons share is told once", "[report]") {
  Compared compared = sample_compared();
  compared.comparisons.push_back(compared.comparisons.front());
  compared.comparisons[0].warnings = {{"other-days", "other days", 0}};
  compared.comparisons[1].warnings = {{"other-days", "other days", 0}, {"other-rate", "other rate", 0}};
  CHECK(warnings_of(compared).size() == 2);
}

TEST_CASE("why nothing was compared names each side without a pair", "[report]") {
  Compared compared = sample_compared();
  compared.comparisons.front().differences.clear();
  compared.sides[0].rides.clear();
  compared.sides[0].pairs = {};
  CHECK_FALSE(has_differences(compared));
  CHECK(why_not_compared(compared) == std::vector<std::string>{"before has no log"});
  compared.sides[0] = compared.sides[1];
  REQUIRE(why_not_compared(compared).size() == 1);
  CHECK_THAT(why_not_compared(compared)[0], Catch::Matchers::Contains("no split in common"));
}

TEST_CASE("every row of the table of differences fits its columns", "[report]") {
  const Table table = differences_table(sample_compared());
  REQUIRE(table.rows.size() == 1);
  CHECK(flat_row(table, table.rows[0]).size() == flat_names(table).size());
}

TEST_CASE("side by side, what the text says of a difference is what the table holds", "[report]") {
  std::ostringstream out;
  write_compared(out, sample_compared(), {});
  CHECK_THAT(out.str(), Catch::Matchers::Contains("5.10 ± 0.04  5.00 ± 0.04  -0.10 ± 0.05"));
  CHECK_THAT(out.str(), Catch::Matchers::Contains("before 1, after 1"));
}
