#include "bothways/log/iso_clock.hpp"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <random>
#include <string>

using namespace bothways;

TEST_CASE("the quick reading of times agrees with the careful one", "[log]") {
  std::mt19937 random(11);
  const auto any = [&](int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); };
  IsoClock clock;
  for (int i = 0; i < 5'000; ++i) {
    // Now and then out of range, so that both must refuse.
    std::string text = fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}", any(1999, 2001), any(1, 12),
                                   any(27, 31), any(20, 24), any(57, 60), any(57, 60));
    if (any(0, 1) == 1) {
      text += fmt::format(".{:0{}}", any(0, 9), any(1, 9));
    }
    text += any(0, 9) == 0 ? "" : "Z";
    CAPTURE(text);
    const auto quick = clock.parse(text);
    const auto careful = parse_iso8601(text);
    REQUIRE(quick.has_value() == careful.has_value());
    if (quick) {
      REQUIRE(quick->instant == careful->instant);
      REQUIRE(quick->has_zone == careful->has_zone);
    }
  }
}
