#include "bothways/report/number.hpp"

#include "lib/report/sample.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

using namespace bothways;

TEST_CASE("a value is shown with the decimals that its interval bears", "[report]") {
  // [GUM] 7.2.6: the uncertainty with at most two significant digits, the value to the same decimal.
  CHECK(plus_minus({5.1234, 0.0153, 5.0934, 5.1534}) == "5.12 ± 0.03");
  CHECK(plus_minus({5.1234, 0.0103, 5.1032, 5.1434}) == "5.123 ± 0.020");
  CHECK(plus_minus({5.1234, 0.1, 4.9274, 5.3194}) == "5.12 ± 0.20");
  CHECK(plus_minus({5.1234, 0.3, 4.5354, 5.7114}) == "5.1 ± 0.6");
  CHECK(plus_minus({15.1234, 3.0, 9.2434, 21.0034}) == "15 ± 6");
  CHECK(plus_minus({123.4, 30.0, 64.6, 182.2}) == "123 ± 59");
}

TEST_CASE("nothing is shown finer than a thousandth of a second", "[report]") {
  CHECK(plus_minus({5.12345, 0.00001, 5.12343, 5.12347}) == "5.123 ± 0.000");
  CHECK(rounded(Estimate{5.12345, 0.00001, 5.12343, 5.12347}).sd == 0.001);
}

TEST_CASE("the resistance of GUM example H.2 is shown as published", "[report]") {
  // [GUM] H.2: R = 127.732 with u = 0.071; to the digits of an expanded uncertainty 0.139.
  CHECK(plus_minus({127.732, 0.071, 127.593, 127.871}) == "127.73 ± 0.14");
}

TEST_CASE("the longer arm of a skew interval is shown", "[report]") {
  CHECK(shown({5.0, 0.1, 4.5, 5.1}).half == "0.5");
  CHECK(shown({5.0, 0.1, 4.9, 5.5}).half == "0.5");
}

TEST_CASE("what is above zero is not shown as if it might be below", "[report]") {
  CHECK(plus_minus({2.205, 1.316, 0.265, 5.884}) == "0.3 to 5.9");
  CHECK(plus_minus({2.205, 1.316, 0.265, 5.884}, 1) == "0.3 to 5.9");
  CHECK(plus_minus({2.982, 1.049, 1.345, 5.639}, 0) == "1 to 6");
  CHECK(plus_minus({4.435, 1.065, 2.778, 7.118}, 0) == "4 ± 3");
  CHECK(plus_minus({0.5, 1.0, -1.5, 2.5}) == "0.5 ± 2.0");  // it may be
}

TEST_CASE("figures are written without a sign of zero and never when they are not finite", "[report]") {
  CHECK(fixed(-0.0001, 2) == "0.00");
  CHECK(fixed(-0.0, 0) == "0");
  CHECK(fixed(-1.005, 1) == "-1.0");
  CHECK_FALSE(std::signbit(rounded(-0.0001, 3)));
  CHECK_THROWS_AS(fixed(nan_value, 2), std::invalid_argument);
  CHECK_THROWS_AS(rounded(infinite, 2), std::invalid_argument);
  CHECK_FALSE(is_printable({1.0, nan_value, 0.0, 2.0}));
}

TEST_CASE("rounding is by the exact binary value", "[report]") {
  CHECK(fixed(2.675, 2) == "2.67");  // the double nearest to 2.675 lies below it
  CHECK(fixed(0.5, 0) == "0");
  CHECK(fixed(1.5, 0) == "2");
  CHECK(rounded(1777887012.3400001, 3) == 1777887012.34);
}

TEST_CASE("figures are written as the standard library writes them, exact middles and large ones too",
          "[report]") {
  bothways::sim::Random random(5);
  std::vector<double> values{0.0,  0.5,   1.5,    2.5,    0.125,    0.375, 1e11, 999999999999.5,
                             1e15, 1e300, 5e-324, 0.9995, 9.9999999};
  for (int i = 0; i < 4000; ++i) {
    values.push_back(std::ldexp(random.uniform(), random.integer(-20, 60)));
    values.push_back(random.integer(0, 100000) / 8.0 * 0.001);  // close to the middle, or in it
  }
  for (const double value : values) {
    for (const int decimals : {0, 1, 2, 3, 7, 12}) {
      std::array<char, 400> buffer{};
      const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                     std::chars_format::fixed, decimals);
      const std::string expected(buffer.data(), end.ptr);
      REQUIRE(fixed(value, decimals) == expected);
      const bool zero = expected.find_first_not_of("0.") == std::string::npos;
      REQUIRE(fixed(-value, decimals) == (zero ? "" : "-") + expected);
    }
  }
}

TEST_CASE("a difference has the decimals that keep the end of its interval off zero", "[report]") {
  CHECK(signed_plus_minus({-0.1849, 0.03, -0.2438, -0.1260}) == "-0.18 ± 0.06");
  CHECK(signed_plus_minus({0.116, 0.05, 0.003, 0.229}) == "+0.116 ± 0.113");
  CHECK(signed_plus_minus({0.012, 0.04, -0.066, 0.090}) == "+0.01 ± 0.08");
  CHECK(signed_plus_minus({0.0004, 0.04, -0.08, 0.08}) == "0.00 ± 0.08");
  CHECK(difference_decimals(Estimate{-5.2, 1.0, -10.0, -0.4}) == 1);
}

TEST_CASE("decimals are alike down a column: what the widest interval bears and the narrowest needs",
          "[report]") {
  const Estimate fine{4.278, 0.0148, 4.249, 4.307};  // alone ± 0.029
  const Estimate usual{4.29, 0.0153, 4.26, 4.32};    // alone ± 0.03
  const Estimate wide{9.6, 0.3, 9.0, 10.2};          // alone ± 0.6
  const Estimate unknown_one{std::nan(""), 0.1, 0.0, 0.0};
  CHECK(common_decimals(std::vector{fine, usual}) == 2);
  CHECK(plus_minus(fine, 2) == "4.28 ± 0.03");
  CHECK(common_decimals(std::vector{wide, usual}) == 2);  // one decimal would make ± 0.0 of 0.03
  CHECK(common_decimals(std::vector{wide, wide}) == 1);
  CHECK(common_decimals(std::vector{fine}) == 3);
  CHECK(common_decimals(std::vector{unknown_one, wide}) == 1);
  CHECK(common_decimals({}) == 0);
}

TEST_CASE("times beside their differences have no fewer decimals than these", "[report]") {
  const std::vector<Estimate> times{{4.234, 0.066, 4.105, 4.363}, {9.66, 0.19, 9.28, 10.04}};
  const std::vector<Estimate> differences{{-0.171, 0.077, -0.322, -0.02}, {-0.15, 0.2, -0.5, 0.2}};
  CHECK(common_decimals(times) == 1);
  CHECK(common_decimals(times, differences) == 2);
  CHECK(common_decimals(times, {}) == 1);
}
