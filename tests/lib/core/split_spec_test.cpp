#include "bothways/core/split_spec.hpp"

#include "bothways/core/duration.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::Contains;

TEST_CASE("splits are read as the trade writes them and named in one spelling", "[core]") {
  const auto splits =
      parse_splits(" 0-30mph, 0 - 50 km/h ,30-50 mph,60ft, 1/4 mi,100 m, 60 kph, 100-200 m, 0-30 mph");
  std::vector<std::string> names;
  for (const auto& split : splits) {
    names.push_back(split.name);
  }
  CHECK(names == std::vector<std::string>{"0-30 mph", "0-50 km/h", "30-50 mph", "60 ft", "1/4 mi", "100 m",
                                          "0-60 km/h", "100-200 m"});
  CHECK(std::get<Speed>(splits[0].to).mps() == 13.4112);
  CHECK(std::get<Length>(splits[4].to).m() == 402.336);
  CHECK(splits[0].from_rest());
  CHECK_FALSE(splits[2].from_rest());
  CHECK(splits[3].from_rest());
  CHECK_FALSE(splits[7].from_rest());
}

TEST_CASE("a text that is no split is refused with a sentence and an example", "[core]") {
  for (const char* text : {"", "mph", "30", "50-30 mph", "0-30 parsec", "0-30 mph: 0-40 mph", "-5 mph",
                           "1e9 m", "nan mph", "1/0 mi", "30- mph"}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(parse_splits(text), Contains("write for example 0-30 mph"));
  }
}

TEST_CASE("units of splits are read in any letters and under their usual names", "[core]") {
  const auto splits = parse_splits("0-30 MPH; 60 Feet; 0–20 knots; 10 to 20 Km/H; 0-15 kt; 100 yards");
  std::vector<std::string> names;
  for (const auto& split : splits) {
    names.push_back(split.name);
  }
  CHECK(names == std::vector<std::string>{"0-30 mph", "60 ft", "0-20 kn", "10-20 km/h", "0-15 kn", "100 yd"});
  for (const char* knots : {"0-18 kn", "0-18 kt", "0-18 knots", "0-18 knot", "0-18 kts"}) {
    CHECK(std::abs(std::get<Speed>(parse_splits(knots).front().to).mps() - 9.26) < 1e-12);
  }
  for (const char* feet : {"60 ft", "60 feet", "60 foot", "20 yd", "20 yards"}) {
    CHECK(std::abs(std::get<Length>(parse_splits(feet).front().to).m() - 18.288) < 1e-12);
  }
  for (const char* kmh : {"0-36 km/h", "0-36 kmph", "0-36 kilometres per hour", "0-36 Kilometers per hour"}) {
    CHECK(parse_splits(kmh).front().name == "0-36 km/h");
  }
  for (const char* mph : {"0-30 mi/h", "0-30 miles per hour"}) {
    CHECK(parse_splits(mph).front().name == "0-30 mph");
  }
  for (const char* run_together : {"0-30 0-50 mph", "0-30 mph 0-50 mph", "0-60-100 mph"}) {
    CHECK_THROWS_WITH(parse_splits(run_together), Contains("a comma stands between splits"));
  }
  CHECK_THROWS_WITH(parse_splits("0-30 parsec"), Contains("none of the units mph, km/h, m/s, kn, ft, m, yd"));
}

TEST_CASE("the unit of a later item serves the items before it", "[core]") {
  const auto names = [](const char* text) {
    std::string all;
    for (const SplitSpec& split : parse_splits(text)) {
      all += (all.empty() ? "" : ", ") + split.name;
    }
    return all;
  };
  CHECK(names("0-30, 0-50 km/h") == "0-30 km/h, 0-50 km/h");
  CHECK(names("0-30,0-50,30-50 mph; 60 ft") == "0-30 mph, 0-50 mph, 30-50 mph, 60 ft");
  CHECK(names("60, 100 metres, 1 kilometre") == "60 m, 100 m, 1 km");
  CHECK(names("0—30 mph; 0‑40 mph; 100 Meters") == "0-30 mph, 0-40 mph, 100 m");
  CHECK_THROWS_WITH(parse_splits("0-30, 60 ft"), Contains("the unit is missing"));  // no range of feet
  CHECK_THROWS_WITH(parse_splits("60 ft, 0-30"), Contains("the unit is missing"));
}

TEST_CASE("braking and decimal commas are refused with what to write instead", "[core]") {
  CHECK_THROWS_WITH(parse_splits("60-0 mph"), Contains("braking is not timed"));
  CHECK_THROWS_WITH(parse_splits("60-0"), Contains("braking is not timed"));
  for (const char* text : {"0-48,3 km/h", "30,5 m", "0-30 mph; 0-48,3 km/h"}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(parse_splits(text), Contains("write decimals with a point, 48.3"));
  }
}

TEST_CASE("a split that lies within the first foot is refused, as the clock starts after it", "[core]") {
  for (const char* text : {"1 ft", "0.3 m", "0-0.01 mph", "0-1 mph", "0.5-60 ft"}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(parse_splits(text), Contains("the clock starts after the first foot"));
  }
  CHECK(parse_splits("0.31 m, 2 ft, 0-2 mph, 1-30 mph").size() == 4);
}

TEST_CASE("the interval of a time taken begins at zero at the least", "[core]") {
  const Estimate wide{0.1, 0.2, -0.292, 0.492};
  CHECK(as_duration(wide).lo95 == 0.0);
  CHECK(as_duration(wide).hi95 == 0.492);
  CHECK(as_duration({1.0, 0.2, 0.6, 1.4}).lo95 == 0.6);
}
