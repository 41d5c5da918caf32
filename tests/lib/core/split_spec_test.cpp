#include "bothways/core/split_spec.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>

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
  for (const char* text : {"", "mph", "30", "50-30 mph", "0-30 parsec", "0-30 mph; 0-40 mph", "-5 mph",
                           "1e9 m", "nan mph", "1/0 mi", "30- mph"}) {
    CAPTURE(text);
    CHECK_THROWS_WITH(parse_splits(text), Contains("write for example 0-30 mph"));
  }
}
