// What is a gap, tried on both sides through speed_series() (docs/method.md, section 3).

#include "bothways/speed/derive.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

using namespace bothways;

TEST_CASE("silences of 1.4 s at 10 Hz and of 3.1 s at 1 Hz are none, 1.7 s and 3.4 s are gaps", "[speed]") {
  const auto stretches_with = [](double rate_hz, double silence_s) {
    Log log = drawn_log({{0.0, 15.0}, {60.0, 15.0}}, rate_hz);
    for (std::size_t i = log.fixes.size() / 2; i < log.fixes.size(); ++i) {
      log.fixes[i].time = shifted(log.fixes[i].time, silence_s - 1.0 / rate_hz);
    }
    return speed_series(log).stretches.size();
  };
  CHECK(stretches_with(10.0, 1.4) == 1);
  CHECK(stretches_with(10.0, 1.7) == 2);
  CHECK(stretches_with(1.0, 3.1) == 1);
  CHECK(stretches_with(1.0, 3.4) == 2);
}
