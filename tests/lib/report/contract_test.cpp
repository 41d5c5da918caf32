#include "bothways/report/contract.hpp"

#include "lib/report/contract_check.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>

#include <sstream>

using namespace bothways;
using nlohmann::json;

namespace {

std::string json_text(const Result& result) {
  std::ostringstream out;
  write_result_json(out, result);
  return out.str();
}

}  // namespace

TEST_CASE("the whole result as JSON follows the contract key by key", "[report]") {
  for (const Clock clock : {Clock::rollout, Clock::movement}) {
    Result result = sample_result();
    result.clock = clock;
    const json document = json::parse(json_text(result));
    CHECK(contract_faults(document) == std::vector<std::string>{});
    CHECK(document["clock"] == (clock == Clock::rollout ? "rollout" : "movement"));
  }
  CHECK(contract_faults(json::parse(json_text({}))) == std::vector<std::string>{});
}

TEST_CASE("the contract check sees a missing key and a wrong interval", "[report]") {
  json document = json::parse(json_text(sample_result()));
  document["logs"][0]["runs"][1]["splits"][0].erase("sd_s");
  document["overall"][0]["lo95_s"] = 9.0;
  CHECK(contract_faults(document) ==
        std::vector<std::string>{"/logs/0/runs/1/splits/0: no sd_s",
                                 "/overall/0: time_s is not inside its interval"});
}

TEST_CASE("JSON holds the figures, the pair in the log of its first run, and the start time", "[report]") {
  const json document = json::parse(json_text(sample_result()));
  const json& run = document["logs"][0]["runs"][0];
  CHECK(run["start"] == "2026-05-04T09:30:12.340Z");
  CHECK(run["start_unix_s"] == 1777887012.34);
  CHECK(run["pair"] == 1);
  CHECK(run["splits"][0]["time_s"] == 5.123);
  CHECK(document["logs"][0]["pairs"][0]["runs"] == json({1, 2}));
  CHECK(document["logs"][1]["pairs"].empty());
  CHECK_FALSE(document["logs"][1]["runs"][0].contains("pair"));
  CHECK(document["overall"][0]["best_one_way_s"] == 5.053);
}

TEST_CASE("the times of the clock asked for come first and both clocks are there", "[report]") {
  Result result = sample_result();
  result.clock = Clock::movement;
  const json split = json::parse(json_text(result))["logs"][0]["runs"][0]["splits"][0];
  CHECK(split["time_s"] == 5.723);
  CHECK(split["movement_time_s"] == 5.723);
  CHECK(split["rollout_time_s"] == 5.123);
  const json pair = json::parse(json_text(result))["logs"][0]["pairs"][0]["splits"][0];
  CHECK(pair["plain_mean_s"] == 5.688);  // of 5.7234 and 5.6534
}

TEST_CASE("an unknown place is an absent key, and no NaN or infinity is ever written", "[report]") {
  Result result = sample_result();
  result.rides[0].receiver.rate_hz = infinite;
  result.rides[0].runs.accepted[0].heading_deg = nan_value;
  result.rides[0].runs.accepted[0].splits[0].movement.sd = nan_value;
  const std::string text = json_text(result);
  const json document = json::parse(text);
  CHECK_FALSE(document["logs"][1]["runs"][0].contains("lat"));
  CHECK_FALSE(document["logs"][1]["runs"][0].contains("heading_deg"));
  CHECK_FALSE(document["logs"][0]["rejected"][1].contains("lon"));
  CHECK_FALSE(document["logs"][0].contains("rate_hz"));
  CHECK_FALSE(document["logs"][0]["runs"][0]["splits"][0].contains("movement_time_s"));
  for (const char* word : {"nan", "NaN", "inf", "null"}) {
    CHECK(text.find(word) == std::string::npos);
  }
}

TEST_CASE("two set-ups in one result are a note beside the overall result", "[report]") {
  Result result = sample_result();
  CHECK_FALSE(json::parse(json_text(result)).contains("notes"));
  result.rides.at(0).conditions.emplace().setup = "as bought";
  result.rides.at(1).conditions.emplace().setup = "new clutch springs";
  const json document = json::parse(json_text(result));
  CHECK(contract_faults(document) == std::vector<std::string>{});
  CHECK(document["notes"][0]["code"] == "mixed-setups");
}

TEST_CASE("a log of unknown day gives times of day", "[report]") {
  Result result = sample_result();
  for (Ride& ride : result.rides) {
    ride.dated = false;
    for (Run& run : ride.runs.accepted) {
      run.movement.unix_us %= 86'400'000'000;
    }
  }
  const json log = json::parse(json_text(result))["logs"][0];
  CHECK(log["dated"] == false);
  CHECK(log["runs"][0]["start"] == "09:30:12.340Z");
}

TEST_CASE("JSON lines are one log a line and a last line with the overall result", "[report]") {
  std::ostringstream out;
  write_result_jsonl(out, sample_result());
  std::istringstream lines(out.str());
  json whole = {{"logs", json::array()}};
  for (std::string line; std::getline(lines, line);) {
    const json object = json::parse(line);
    CHECK(object["schema"] == "bothways/1");
    whole["schema"] = object["schema"];
    whole["clock"] = object["clock"];
    if (object.contains("overall")) {
      whole["overall"] = object["overall"];
    } else {
      whole["logs"].push_back(object);
    }
  }
  CHECK(whole["logs"].size() == 2);
  CHECK(contract_faults(whole) == std::vector<std::string>{});
}
