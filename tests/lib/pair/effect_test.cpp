#include "bothways/pair/effect.hpp"

#include <catch2/catch.hpp>

#include <stdexcept>

using namespace bothways;
using Catch::Matchers::Contains;
using Catch::Matchers::WithinAbs;

namespace {

Conditions made(std::initializer_list<std::pair<const char*, const char*>> lines) {
  Conditions conditions;
  for (const auto& [key, value] : lines) {
    set_condition(conditions, key, value);
  }
  return conditions;
}

ExpectedPart only(const ExpectedEffect& effect) {
  REQUIRE(effect.parts.size() == 1);
  return effect.parts.front();
}

}  // namespace

TEST_CASE("the expected effect agrees with the figures of the scooter", "[pair]") {
  SECTION("mass: 1 % gives 1.05, 1.05 and 1.07 %, 5 kg 2.63, 2.64 and 2.69 % to 30, 40 and 50 mph") {
    const auto before = made({{"total_mass", "200 kg"}});
    // One exponent for the three marks: half of their spread, and of the printed digit.
    CHECK_THAT(only(expected_effect(before, made({{"total_mass", "202 kg"}}), 1.0)).share.lo,
               WithinAbs(0.0106, 0.0002));
    CHECK_THAT(only(expected_effect(before, made({{"total_mass", "205 kg"}}), 1.0)).share.hi,
               WithinAbs(0.0266, 0.0004));
  }
  SECTION("5 % thinner air, drive and drag, gives 5.5, 5.6 and 5.7 %") {
    const auto before = made({{"temperature", "15 C"}, {"pressure", "1000 hPa"}, {"humidity", "0 %"}});
    const auto after = made({{"temperature", "15 C"}, {"pressure", "950 hPa"}, {"humidity", "0 %"}});
    const auto air = only(expected_effect(before, after, 1.0));
    CHECK(air.code == "air");
    CHECK_THAT(air.share.lo, WithinAbs(0.056, 0.001));
    CHECK(air.share.hi < 0.075);  // SAE J1349 takes 5.9 % of power off
  }
  SECTION("wind of 3 m/s slows by 0.46 to 0.72 %") {
    const auto wind = only(expected_effect(made({{"wind", "0 m/s"}}), made({{"wind", "3 m/s"}}), 10.0));
    CHECK_THAT(wind.share.lo, WithinAbs(0.0046, 0.0002));
    CHECK_THAT(wind.share.hi, WithinAbs(0.0072, 0.0002));
    CHECK_THAT(wind.time_s.hi, WithinAbs(0.072, 0.002));
  }
}

TEST_CASE("each part says in a sentence what it may explain", "[pair]") {
  const auto effect =
      expected_effect(made({{"temperature", "25 C"}, {"total_mass", "200 kg"}, {"wind", "1 m/s"}}),
                      made({{"temperature", "11 C"}, {"total_mass", "205 kg"}, {"wind", "4 m/s"}}), 4.3);
  REQUIRE(effect.parts.size() == 3);
  CHECK(effect.parts[0].text ==
        "the air was 6 % denser after: that alone may make it quicker by about 0.2 to 0.3 s, for an engine "
        "without turbo or supercharger (the same pressure assumed)");
  CHECK(effect.parts[1].text ==
        "vehicle and rider were 5 kg heavier after, 2.5 % of the whole: that alone may make it slower "
        "by about 0.1 s");
  CHECK(effect.parts[2].text ==
        "there was more wind after, which costs more one way than it gives back the other: that alone may "
        "make it slower by about 0.03 to 0.05 s");
}

TEST_CASE("exchanging the sides turns every part around", "[pair]") {
  const auto one = made({{"temperature", "25 C"}, {"total_mass", "200 kg"}, {"wind", "1-2 m/s"}});
  const auto other = made({{"temperature", "5 C"}, {"total_mass", "230 kg"}, {"wind", "3-5 m/s"}});
  const auto there = expected_effect(one, other, 1.0);
  const auto back = expected_effect(other, one, 1.0);
  REQUIRE(there.parts.size() == 3);
  REQUIRE(back.parts.size() == 3);
  for (std::size_t i = 0; i < 3; ++i) {
    CAPTURE(there.parts[i].code);
    // (1 + share) of the way there times that of the way back is 1; to first order for the wind.
    const double tolerance = there.parts[i].code == "wind" ? 1e-3 : 1e-12;
    CHECK_THAT((1.0 + there.parts[i].share.lo) * (1.0 + back.parts[i].share.hi), WithinAbs(1.0, tolerance));
  }
}

TEST_CASE("nothing is expected where nothing differs or nothing is known", "[pair]") {
  const auto same = made({{"temperature", "20 C"}, {"pressure", "1013 hPa"}, {"total_mass", "200 kg"}});
  CHECK(expected_effect({}, {}, 4.0).parts.empty());
  CHECK(expected_effect(same, same, 4.0).parts.empty());
  CHECK(expected_effect(same, {}, 4.0).parts.empty());
  CHECK(expected_effect({}, same, 4.0).parts.empty());
  CHECK_THROWS_AS(expected_effect({}, {}, 0.0), std::invalid_argument);
}

TEST_CASE("a heavier rider counts where the total is known of one side", "[pair]") {
  const auto before = made({{"rider_mass", "80 kg"}, {"total_mass", "200 kg"}});
  CHECK_THAT(only(expected_effect(before, made({{"rider_mass", "85 kg"}}), 1.0)).share.lo,
             WithinAbs(0.0264, 1e-3));
  const auto unknown =
      only(expected_effect(made({{"rider_mass", "80 kg"}}), made({{"rider_mass", "85 kg"}}), 1.0));
  CHECK(unknown.time_s.hi == 0.0);
  CHECK_THAT(unknown.text, Contains("5 kg heavier") && Contains("total_mass"));
}
