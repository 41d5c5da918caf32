#include "bothways/log/number.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <random>
#include <string>

using namespace bothways;

TEST_CASE("a decimal number reads as the nearest double", "[log]") {
  // Reference: strtod of the C library, correctly rounded; "C" locale in the
  // tests.
  std::mt19937_64 random(7);
  std::uniform_int_distribution<int> digit('0', '9');
  std::uniform_int_distribution<int> length(0, 12);
  for (int i = 0; i < 20'000; ++i) {
    std::string text = i % 3 == 0 ? "-" : "";
    text += static_cast<char>(digit(random));
    for (int k = length(random); k > 0; --k) {
      text += static_cast<char>(digit(random));
    }
    text += '.';
    for (int k = length(random); k > 0; --k) {
      text += static_cast<char>(digit(random));
    }
    CAPTURE(text);
    REQUIRE(parse_decimal(text) == std::strtod(text.c_str(), nullptr));
  }
}

TEST_CASE("numbers may have white space, a plus sign, an exponent", "[log]") {
  CHECK(parse_decimal(" 1.5\n") == 1.5);
  CHECK(parse_decimal("+1.5") == 1.5);
  CHECK(parse_decimal("1.5e3") == 1500.0);
  CHECK(parse_decimal("-0") == 0.0);
  CHECK(parse_decimal(".5") == 0.5);
  CHECK(parse_decimal("5.") == 5.0);
  CHECK(parse_decimal("0.00000000000000000000000000001") == 1e-29);
}

TEST_CASE("what is no decimal number is refused", "[log]") {
  for (const char* text : {"", " ", "-", "+", ".", "1,5", "1.5m", "1.2.3", "--1", "-+1", "inf", "nan",
                           "infinity", "1e999", "0x10", "1 2"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_decimal(text));
  }
}

TEST_CASE("digits behind the point are counted as written", "[log]") {
  CHECK(decimals_of("5.50") == 2);
  CHECK(decimals_of("5.") == 0);
  CHECK(decimals_of("5") == 0);
}
