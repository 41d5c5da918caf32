// docs/formats.md names every column and key that is written.
#include "bothways/report/conditions.hpp"
#include "bothways/report/contract.hpp"
#include "bothways/report/flat.hpp"
#include "bothways/report/power.hpp"
#include "bothways/report/rows.hpp"
#include "bothways/report/trip.hpp"
#include "lib/report/sample.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <fstream>
#include <regex>
#include <set>
#include <sstream>

using namespace bothways;

namespace {

/// All words of the page that could be a name.
std::set<std::string> words_of_page() {
  std::ifstream file(BOTHWAYS_SOURCE_DIR "/docs/formats.md");
  std::ostringstream text;
  text << file.rdbuf();
  const std::string page = text.str();
  static const std::regex name("[A-Za-z0-9_-]+");
  std::set<std::string> words;
  for (std::sregex_iterator it(page.begin(), page.end(), name), end; it != end; ++it) {
    words.insert(it->str());
  }
  return words;
}

void collect_keys(const nlohmann::json& value, std::set<std::string>& keys) {
  if (value.is_object()) {
    for (const auto& [key, inner] : value.items()) {
      keys.insert(key);
      collect_keys(inner, keys);
    }
  } else if (value.is_array()) {
    for (const auto& inner : value) {
      collect_keys(inner, keys);
    }
  }
}

}  // namespace

TEST_CASE("docs/formats.md names every key of the JSON", "[report]") {
  Result result = sample_result();
  result.rides[0].runs.accepted[0].gentle = true;
  result.rides[0].runs.accepted[0].notes = {{"gear-change", "a gear was changed"}};
  result.overall[0].pairs = 2;
  Conditions conditions{.file = "conditions.ini"};
  for (const auto& [key, value] :
       {std::pair{"setup", "springs"}, std::pair{"vehicle", "Heron 125"}, std::pair{"note", "dry"},
        std::pair{"rider_mass", "82 kg"}, std::pair{"total_mass", "200 kg"}, std::pair{"temperature", "11 C"},
        std::pair{"pressure", "1013 hPa"}, std::pair{"sea_level_pressure", "1013 hPa"},
        std::pair{"station_height", "300 m"}, std::pair{"humidity", "60 %"}, std::pair{"wind", "1-3 m/s"}}) {
    set_condition(conditions, key, value);
  }
  CHECK(condition_record(conditions).size() == condition_keys().size() + 4);  // file, wind twice, air density
  result.rides[0].conditions = conditions;
  std::set<std::string> keys;
  for (const Clock clock : {Clock::rollout, Clock::movement}) {
    result.clock = clock;
    std::ostringstream out;
    write_result_json(out, result);
    collect_keys(nlohmann::json::parse(out.str()), keys);
  }
  const auto words = words_of_page();
  CHECK(keys.size() > 40);
  for (const std::string& key : keys) {
    CAPTURE(key);
    CHECK(words.count(key) == 1);
  }
}

TEST_CASE("docs/formats.md names every column of the CSV", "[report]") {
  const Result result = sample_result();
  const auto words = words_of_page();
  for (const Table& table :
       {runs_table(result), pairs_table(result), results_table(result, true), fixes_table(sample_log(1)),
        stretch_table({}, 1, SpeedSource::reported, "", true)}) {
    for (const std::string& name : flat_names(table)) {
      CAPTURE(table.name, name);
      CHECK(words.count(name) == 1);
    }
  }
  const auto wide = flat_names(wide_runs_table(result));
  CHECK(std::find(wide.begin(), wide.end(), "0-30_mph_time_s") != wide.end());
  CHECK(words.count("0-30_mph_time_s") == 1);
}

TEST_CASE("docs/formats.md names every figure of a trip", "[report]") {
  const Estimate one{1.0, 0.1, 0.8, 1.2};
  Trip trip{.path = "ride.csv", .readings = 2, .distance_m = one, .moving_s = 1.0};
  trip.sustained_1s_mps = one;
  trip.sustained_5s_mps = one;
  trip.climb_m = one;
  trip.channels = {{"battery", {1, 1.0, 1.0, 1.0}, {1, 1.0, 1.0, 1.0}, one, 1.0}};
  const TripResult result{.trips = {trip, trip},
                          .consumption = consumption_of(1.0, {20'000.0, 10.0, 19'980.0, 20'020.0})};
  std::ostringstream out;
  write_trip_json(out, result);
  std::set<std::string> keys;
  collect_keys(nlohmann::json::parse(out.str()), keys);
  const auto words = words_of_page();
  CHECK(keys.size() > 50);
  for (const std::string& key : keys) {
    CAPTURE(key);
    CHECK(words.count(key) == 1);
  }
  for (std::string name : flat_names(trip_table(result))) {
    name = name.starts_with("battery_") ? name.substr(8) : name;
    CAPTURE(name);
    CHECK(words.count(name) == 1);
  }
}

TEST_CASE("a value that no vehicle has is written in few digits", "[report]") {
  Trip trip{.path = "ride.csv", .readings = 2, .moving_s = 1.0};
  trip.channels = {{"battery", {1, -1e308, 1e12, 1e308}, {1, 1.0, 1.0, 1.0}, {1e300, 1e299, 8e299, 1.2e300}}};
  std::ostringstream out;
  write_trip(out, {.trips = {trip}}, {});
  CHECK(out.str().find("standing 1e+12 (-1e+308 to 1e+308)") != std::string::npos);
  CHECK(out.str().size() < 1000);
}

TEST_CASE("docs/formats.md names every figure of the power at the road", "[report]") {
  const Estimate one{1.0, 0.1, 0.8, 1.2};
  const PowerResult result{.power = {.load = {}, .rows = {{10.0, 1, one, one}}}};
  std::ostringstream out;
  write_power_json(out, result);
  std::set<std::string> keys;
  collect_keys(nlohmann::json::parse(out.str()), keys);
  for (const std::string& name : flat_names(power_table(result))) {
    keys.insert(name);
  }
  const auto words = words_of_page();
  CHECK(keys.size() > 20);
  for (const std::string& key : keys) {
    CAPTURE(key);
    CHECK(words.count(key) == 1);
  }
}
