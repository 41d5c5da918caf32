#include "bothways/core/conditions.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>
#include <string>

using namespace bothways;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinRel;

namespace {

std::string refusal(const std::string& key, const std::string& value) {
  Conditions conditions;
  try {
    set_condition(conditions, key, value);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "";
}

Conditions made(std::initializer_list<std::pair<const char*, const char*>> lines) {
  Conditions conditions;
  for (const auto& [key, value] : lines) {
    set_condition(conditions, key, value);
  }
  return conditions;
}

}  // namespace

TEST_CASE("every key of conditions can be set", "[core]") {
  Conditions conditions;
  CHECK(conditions.empty());
  for (const auto key : condition_keys()) {
    Conditions one;
    std::string value = "new springs";
    for (const char* text :
         {"new springs", "82 kg", "11 C", "1013 hPa", "300 m", "60 %", "1-3 m/s", "scooter"}) {
      if (refusal(std::string(key), text).empty()) {
        value = text;
      }
    }
    CAPTURE(key, value);
    set_condition(one, key, value);
    CHECK_FALSE(one.empty());
  }
  CHECK(condition_keys().size() == 12);
}

TEST_CASE("a kind of vehicle is one of five words, in any letters", "[core]") {
  CHECK(made({{"kind", " Scooter "}}).kind == VehicleKind::scooter);
  for (const VehicleKind kind : vehicle_kinds) {
    CHECK(parse_vehicle_kind(to_string(kind)) == kind);
  }
  CHECK_THAT(refusal("kind", "boat"), Contains("kind: 'boat'") && Contains("write moped, scooter, "));
}

TEST_CASE("texts are kept as written, without blanks at the ends", "[core]") {
  CHECK(made({{"setup", "  new clutch springs\r"}}).setup == "new clutch springs");
  CHECK_THAT(refusal("note", std::string(2000, 'x')), Contains("shorten"));
}

TEST_CASE("a bad condition is refused with its key and a remedy", "[core]") {
  CHECK_THAT(refusal("temperature", "52"),
             Contains("temperature: ") && Contains("write for example 11 C or 52 F"));
  CHECK_THAT(refusal("temperature", "500 F"),
             Contains("temperature: '500 F' cannot be") && Contains("140 F"));
  CHECK_THAT(refusal("rider_mass", "8 kg"), Contains("44 to 660 lb"));
  CHECK_THAT(refusal("pressure", "29.92 hPa"), Contains("500 to 1100 hPa"));
  CHECK_THAT(refusal("wind", "1-300 m/s"), Contains("40 m/s"));
  CHECK_THAT(refusal("humidity", "160 %"), Contains("100 %"));
  CHECK_THAT(refusal("wheels", "2"), Contains("there is no condition 'wheels'") && Contains("rider_mass"));
  CHECK_THAT(refusal("setup", "  "), Contains("has no value"));
}

TEST_CASE("the density of the air follows from what is known", "[core]") {
  CHECK_FALSE(air_density_of(made({{"temperature", "20 C"}})));
  CHECK_FALSE(air_density_of(made({{"pressure", "1013 hPa"}})));
  CHECK_FALSE(air_density_of(made({{"temperature", "20 C"}, {"sea_level_pressure", "1013 hPa"}})));
  const auto full =
      air_density_of(made({{"temperature", "20 C"}, {"pressure", "1013.25 hPa"}, {"humidity", "50 %"}}));
  REQUIRE(full);
  CHECK_THAT(full->value, WithinRel(1.19931, 1e-4));
  CHECK_THAT(full->sd / full->value, WithinRel(0.0036, 0.05));  // 1 K of 293 and 1 hPa of 1013
}

TEST_CASE("a height gives the standard pressure, and the sea's pressure improves on it", "[core]") {
  const auto height = made({{"temperature", "15 C"}, {"station_height", "1000 m"}, {"humidity", "0 %"}});
  CHECK_THAT(pressure_at_place_pa(height).value(), WithinRel(89'874.56, 1e-6));
  const auto reduced = made({{"temperature", "15 C"},
                             {"station_height", "1000 m"},
                             {"sea_level_pressure", "1023.3825 hPa"},
                             {"humidity", "0 %"}});
  CHECK_THAT(pressure_at_place_pa(reduced).value(), WithinRel(1.01 * 89'874.56, 1e-6));
  CHECK(air_density_of(reduced)->sd < air_density_of(height)->sd);
}
