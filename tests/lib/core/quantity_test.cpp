#include "bothways/core/quantity.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>
#include <string>

using namespace bothways;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

std::string refusal(const std::string& text, Dimension dimension) {
  try {
    (void)parse_quantity_range(text, dimension);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("figures with units are read into SI", "[core]") {
  // Exact factors of [NIST811]; the conventional inch of mercury is 3386.389 Pa.
  constexpr double round_off = 1e-14;
  CHECK_THAT(parse_quantity("52 F", Dimension::temperature), WithinRel(100.0 / 9.0, round_off));
  CHECK_THAT(parse_quantity("-40F", Dimension::temperature), WithinRel(-40.0, round_off));
  CHECK(parse_quantity(" 11 °C ", Dimension::temperature) == 11.0);
  CHECK_THAT(parse_quantity("300 K", Dimension::temperature), WithinRel(26.85, 1e-13));
  CHECK_THAT(parse_quantity("29.92 inHg", Dimension::pressure), WithinRel(101'320.75888, round_off));
  CHECK_THAT(parse_quantity("760 mmHg", Dimension::pressure), WithinRel(101'325.0, round_off));
  CHECK(parse_quantity("1013 hPa", Dimension::pressure) == 101'300.0);
  CHECK_THAT(parse_quantity("980 ft", Dimension::length), WithinRel(298.704, round_off));
  CHECK_THAT(parse_quantity("182 lb.", Dimension::mass), WithinRel(82.55381134, round_off));
  CHECK(parse_quantity("82kg", Dimension::mass) == 82.0);
  CHECK_THAT(parse_quantity("5 mph", Dimension::speed), WithinRel(2.2352, round_off));
  CHECK_THAT(parse_quantity("60 %", Dimension::share), WithinRel(0.6, round_off));
  CHECK_THAT(parse_quantity("1.153 US gal", Dimension::volume), WithinRel(4.364579786952, round_off));
  CHECK_THAT(parse_quantity("1 imp. gal", Dimension::volume), WithinRel(4.54609, round_off));
  CHECK(parse_quantity("3.4L", Dimension::volume) == 3.4);
  CHECK_THAT(parse_quantity("6 sq ft", Dimension::area), WithinRel(0.55741824, round_off));
}

TEST_CASE("a range is two figures with one unit", "[core]") {
  const Range wind = parse_quantity_range("1-3 m/s", Dimension::speed);
  CHECK(wind.lo == 1.0);
  CHECK(wind.hi == 3.0);
  CHECK(wind.middle() == 2.0);
  CHECK(parse_quantity_range("2 to 4 m/s", Dimension::speed).hi == 4.0);
  CHECK(parse_quantity_range("1 – 3 m/s", Dimension::speed).hi == 3.0);
  CHECK(parse_quantity_range("2 m/s", Dimension::speed).lo == 2.0);
  CHECK(parse_quantity_range("2 m/s", Dimension::speed).hi == 2.0);
  CHECK_THAT(refusal("3-1 m/s", Dimension::speed), Contains("ends lower than it starts"));
}

TEST_CASE("a bare gallon is refused, since it may be US or imperial", "[core]") {
  for (const char* text : {"1.2 gal", "1.2 gallons", "1.2gal."}) {
    CHECK_THAT(refusal(text, Dimension::volume), Contains("US or imperial") && Contains("1.2 US gal"));
  }
}

TEST_CASE("what is no figure with its unit is refused with a remedy", "[core]") {
  CHECK_THAT(refusal("52", Dimension::temperature), Contains("'52' has no unit") && Contains("52 F"));
  CHECK_THAT(refusal("warm", Dimension::temperature), Contains("does not start with a figure"));
  CHECK_THAT(refusal("", Dimension::mass), Contains("82 kg"));
  CHECK_THAT(refusal("82 m", Dimension::mass), Contains("a unit that is not known here"));
  CHECK_THAT(refusal("11,5 C", Dimension::temperature), Contains("decimal point"));
  CHECK_THAT(refusal("nan C", Dimension::temperature), Contains("figure"));
  CHECK_THAT(refusal("1e3 m", Dimension::length), Contains("unit"));
  CHECK_THAT(refusal("inf m", Dimension::length), Contains("figure"));
  CHECK_THAT(refusal("1-3", Dimension::speed), Contains("has no unit"));
}
