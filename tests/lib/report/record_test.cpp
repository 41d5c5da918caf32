#include "bothways/report/record.hpp"

#include "bothways/report/contract_parts.hpp"
#include "bothways/report/csv.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <sstream>
#include <stdexcept>

using namespace bothways;

namespace {

Record sample(double time_s) {
  Record record{{{"name", "split"}, "0-30 mph"},
                {{"", "log"}, "ride.gpx"},
                {{"fixes", ""}, 600},
                {"main", true},
                {"pairs", 3},
                {"apart", Number{0.123456, 4}}};
  add_estimate(record, time_key(), {time_s, 0.04, time_s - 0.08, time_s + 0.08});
  return record;
}

}  // namespace

TEST_CASE("CSV and JSON take a figure from the same record", "[report]") {
  std::ostringstream csv;
  write_csv(csv, table_of("splits", sample(0.0), {sample(5.1234)}));
  CHECK(csv.str() ==
        "split,log,main,pairs,apart,time_s,sd_s,lo95_s,hi95_s\r\n"
        "0-30 mph,ride.gpx,yes,3,0.1235,5.123,0.040,5.043,5.203\r\n");
  CHECK(to_json(sample(5.1234)).dump() ==
        R"({"name":"0-30 mph","fixes":600,"main":true,"pairs":3,"apart":0.1235,)"
        R"("time_s":5.123,"sd_s":0.04,"lo95_s":5.043,"hi95_s":5.203})");
}

TEST_CASE("what is not finite is no key, and an empty cell", "[report]") {
  const double nothing = std::nan("");
  CHECK_FALSE(to_json(sample(nothing)).contains("sd_s"));
  std::ostringstream csv;
  write_csv(csv, table_of("splits", sample(0.0), {sample(nothing)}), false);
  CHECK(csv.str() == "0-30 mph,ride.gpx,yes,3,0.1235,,,,\r\n");
}

TEST_CASE("an estimate names its figures after the time or after what it measures", "[report]") {
  const auto names = [](const EstimateKey& key) {
    std::string all;
    for (const Key& name : names_of(key)) {
      all += name.json + "|" + name.column + " ";
    }
    return all;
  };
  CHECK(names(time_key("movement")) ==
        "movement_time_s|movement_time_s movement_sd_s|movement_sd_s movement_lo95_s|movement_lo95_s "
        "movement_hi95_s|movement_hi95_s ");
  CHECK(names(quantity_key("climb", "m")) ==
        "climb_m|climb_m climb_sd_m|climb_sd_m climb_lo95_m|climb_lo95_m climb_hi95_m|climb_hi95_m ");
  CHECK(names({.value = {"rollout_time", ""}, .spread = {"rollout", ""}}) ==
        "rollout_time_s| rollout_sd_s| rollout_lo95_s| rollout_hi95_s| ");
}

TEST_CASE("a table takes no row of other columns", "[report]") {
  Record other = sample(5.0);
  other.front().key.column = "mark";
  CHECK_THROWS_AS(table_of("splits", sample(0.0), {other}), std::invalid_argument);
  other.pop_back();
  CHECK_THROWS_AS(table_of("splits", sample(0.0), {other}), std::invalid_argument);
}
