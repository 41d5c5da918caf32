// Planning through the program.
#include "cli/amount.hpp"
#include "cli/command.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace bothways::cli;
using Json = nlohmann::json;
using Catch::Matchers::WithinAbs;

namespace {

Json plan_of(const std::vector<std::string>& arguments) {
  std::vector<std::string> all{"plan", "--format", "json"};
  all.insert(all.end(), arguments.begin(), arguments.end());
  const Outcome outcome = call(all);
  REQUIRE(outcome.code == Exit::ok);
  return Json::parse(outcome.out);
}

}  // namespace

TEST_CASE("an amount is a time or a share, and nothing without a unit", "[cli]") {
  constexpr double exact = 1e-12;  // one division
  CHECK_THAT(parse_amount("200 ms", "--detect").value, WithinAbs(0.2, exact));
  CHECK_THAT(parse_amount("0.2s", "--detect").value, WithinAbs(0.2, exact));
  CHECK(parse_amount("2 %", "--detect").percent);
  for (const char* wrong :
       {"", " ", "0.2", "s", "-1s", "0s", "0.2 min", "1e999s", "nan s", "inf s", "200%"}) {
    CAPTURE(wrong);
    CHECK_THROWS_AS(parse_amount(wrong, "--detect"), UsageError);
  }
  CHECK_THAT(parse_chance("80%", "--power"), WithinAbs(0.8, exact));
  for (const char* wrong : {"", "0", "1", "80", "-0.1", "0.5s", "nan"}) {
    CAPTURE(wrong);
    CHECK_THROWS_AS(parse_chance(wrong, "--power"), UsageError);
  }
}

TEST_CASE("the plan gives the published sample sizes", "[cli]") {
  // [COHEN88], two-sided 0.05 and power 0.8: 64, 26 and 17 a group for d = 0.5, 0.8 and 1.0.
  for (const auto& [detect, pairs] : {std::pair{"0.5s", 64}, std::pair{"0.8s", 26}, std::pair{"1.0s", 17}}) {
    CHECK(plan_of({"--detect", detect, "--scatter", "1s"})["plans"][0]["pairs"] == pairs);
  }
}

TEST_CASE("a share, milliseconds and seconds give the same plan", "[cli]") {
  const int pairs = plan_of({"--detect", "0.2s", "--scatter", "0.15s"})["plans"][0]["pairs"];
  CHECK(plan_of({"--detect", "200ms", "--scatter", "150 ms"})["plans"][0]["pairs"] == pairs);
  CHECK(plan_of({"--detect", "2%", "--scatter", "1.5%"})["plans"][0]["pairs"] == pairs);
}

TEST_CASE("the scatter that logs show gives the plan that the same scatter gives when it is named", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json plan = plan_of({"--detect", "0.1s", "fixtures/before-after/before"});
  for (const Json& row : plan["plans"]) {
    CAPTURE(row["name"]);
    const std::string scatter = row["scatter_s"].dump() + "s";
    const Json named = plan_of({"--detect", "0.1s", "--scatter", scatter})["plans"][0];
    CHECK(named["pairs"] == row["pairs"]);
    CHECK(row["from_pairs"] == 3);
  }
}
