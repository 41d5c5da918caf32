// Each limit of what no vehicle can do, tried on both sides through speed_series() (docs/method.md, section
// 1, "Spikes").

#include "bothways/speed/derive.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cstddef>

using namespace bothways;

namespace {

/// Readings of a log that are not believed.
std::size_t left_out(const Log& log) {
  std::size_t count = 0;
  for (const Stretch& stretch : speed_series(log).stretches) {
    count += static_cast<std::size_t>(std::count_if(stretch.sd_mps.begin(), stretch.sd_mps.end(),
                                                    [](double sd) { return sd >= disbelieved_mps; }));
  }
  return count;
}

/// A steady ride at 15 m/s whose speed is off by `off_mps` in `rows` readings from 30 s on.
Log off_for(std::size_t rows, double off_mps, double rate_hz = 10.0) {
  Log log = drawn_log({{0.0, 15.0}, {60.0, 15.0}}, rate_hz);
  const auto first = static_cast<std::size_t>(30.0 * rate_hz);
  for (std::size_t i = first; i < first + rows; ++i) {
    log.fixes[i].speed_mps += off_mps;
  }
  return log;
}

}  // namespace

TEST_CASE("one reading up and back at 13 m/s^2 is believed, at 16 m/s^2 not", "[speed]") {
  for (const double sign : {-1.0, 1.0}) {
    CHECK(left_out(off_for(1, sign * 1.3)) == 0);
    CHECK(left_out(off_for(1, sign * 1.6)) == 1);
  }
}

TEST_CASE("two or three readings up and back at 8.5 m/s^2 are believed, at 12 m/s^2 not", "[speed]") {
  for (const std::size_t rows : {std::size_t{2}, std::size_t{3}}) {
    CHECK(left_out(off_for(rows, 0.85)) == 0);
    CHECK(left_out(off_for(rows, 1.2)) == rows);
    CHECK(left_out(off_for(rows, -1.2)) == rows);
  }
}

TEST_CASE("four readings up and back at 12 m/s^2, or two that take more than a second, are believed",
          "[speed]") {
  CHECK(left_out(off_for(4, 1.2)) == 0);
  CHECK(left_out(off_for(2, 12.0 / 4.0, 4.0)) == 2);  // three steps: 0.75 s
  CHECK(left_out(off_for(2, 12.0 / 2.0, 2.0)) == 0);  // 1.5 s
}

TEST_CASE("seconds beyond a jump of 7 m/s are believed, beyond one of 8 m/s not", "[speed]") {
  // The limit at 10 Hz is 6 m/s and 14 m/s^2 for a tenth of a second: 7.4 m/s.
  for (const double sign : {-1.0, 1.0}) {
    CHECK(left_out(off_for(40, sign * 7.0)) == 0);
    CHECK(left_out(off_for(40, sign * 8.0)) == 40);
  }
}

TEST_CASE("a jump that is taken back after 11 s is not believed, after 13 s it is", "[speed]") {
  CHECK(left_out(off_for(110, 9.0)) == 110);
  CHECK(left_out(off_for(130, 9.0)) == 0);
}

TEST_CASE("a jump back to where 6.5 m/s^2 took the vehicle ends a jam, where 10 m/s^2 would it does not",
          "[speed]") {
  const auto jammed_while = [](double accel_mps2) {
    Log log =
        drawn_log({{0.0, 5.0}, {30.0, 5.0}, {32.0, 5.0 + 2.0 * accel_mps2}, {60.0, 5.0 + 2.0 * accel_mps2}});
    for (std::size_t i = 301; i < 320; ++i) {
      log.fixes[i].speed_mps = 60.0;
    }
    return left_out(log);
  };
  CHECK(jammed_while(6.5) == 19);
  CHECK(jammed_while(10.5) == 0);  // 3 m/s and 8 m/s^2 for 2 s: 19 m/s
}

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
