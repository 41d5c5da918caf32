// Planning through the program.
#include "cli/amount.hpp"
#include "cli/command.hpp"
#include "cli/support.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>

using namespace bothways::cli;
using Json = nlohmann::json;
using Catch::Matchers::Contains;
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

TEST_CASE("a plan from logs is that of their scatter, and asks for more pairs to see less", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  int last = 0;
  for (const auto* detect : {"0.3s", "0.18s", "0.15s"}) {
    const Json row = plan_of({"--detect", detect, "fixtures/before-after/before"})["plans"][0];
    CAPTURE(detect, row.dump());
    CHECK(row["from_pairs"] == 3);
    CHECK(row["power"] >= 0.8);
    CHECK(row["pairs"] > last);
    CHECK(row["scatter_s"] < 0.15);
    last = row["pairs"];
  }
}

TEST_CASE("a plan from two set-ups takes the scatter within each where the conditions name them", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const Json both = plan_of({"--detect", "0.1s", "fixtures/before-after"})["plans"][0];
  const Json before = plan_of({"--detect", "0.1s", "fixtures/before-after/before"})["plans"][0];
  const Json after = plan_of({"--detect", "0.1s", "fixtures/before-after/after"})["plans"][0];
  CHECK(both["setups"] == 2);
  CHECK(both["from_pairs"] == 6);
  const double a = before["scatter_s"];
  const double b = after["scatter_s"];
  CHECK_THAT(both["scatter_s"].get<double>(), WithinAbs(std::sqrt((a * a + b * b) / 2.0), 0.001));
}

TEST_CASE("several logs that do not name their set-up are taken for one, and the plan says so", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  const std::vector<std::string> two{"--detect", "0.1s", "fixtures/two-logs/1-out.nmea",
                                     "fixtures/two-logs/2-back.nmea"};
  CHECK(plan_of(two)["notes"][0]["code"] == "one-setup-assumed");
  CHECK(plan_of({"--detect", "0.1s", "fixtures/demo"}).count("notes") == 0);
  CHECK(plan_of({"--detect", "0.1s", "fixtures/before-after"}).count("notes") == 0);
  const std::vector<std::string> other_order{two[0], two[1], two[3], two[2]};
  CHECK(plan_of(two) == plan_of(other_order));
}

TEST_CASE("what fewer pairs show never reads as what more are said to need, in words and figures", "[cli]") {
  const InFolder here(BOTHWAYS_SOURCE_DIR);
  // Five pairs show 0.2024 s here, which two digits would call the 0.20 s that six are said to need.
  const std::string text = call({"plan", "--detect", "0.2s", "--scatter", "0.1s"}).out;
  CHECK_THAT(text, Contains("6 pairs a side show a difference of 0.2 s"));
  CHECK_THAT(text, Contains("5    0.202"));
  for (int hundredths = 12; hundredths <= 40; ++hundredths) {
    for (const char* scatter : {"0.1s", "0.13s"}) {
      const std::string detect = std::to_string(hundredths) + "0ms";
      const Json plan = plan_of({"--detect", detect, "--scatter", scatter})["plans"][0];
      CAPTURE(plan.dump());
      for (const Json& row : plan["shown"]) {
        CHECK((row["pairs"] >= plan["pairs"]) == (row["difference_s"] <= plan["difference_s"]));
      }
    }
  }
}
