// Each limit of what counts as a start, tried on both sides (docs/method.md, section 3).

#include "bothways/core/split_spec.hpp"
#include "bothways/run/detect.hpp"
#include "bothways/run/find.hpp"
#include "bothways/speed/derive.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <string>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

const SpeedPoints rest{{0.0, 0.0}, {6.0, 0.0}};

Starts starts_in(const SpeedPoints& points) {
  return detect_starts(speed_series(drawn_log(points)));
}

/// Highest speed before the lift of the one standing start.
double top_mps(const SpeedPoints& points) {
  const Starts starts = starts_in(points);
  REQUIRE(starts.standing.size() == 1);
  return starts.standing.front().top_mps;
}

/// Two full starts, and then another.
Runs runs_after_two(const SpeedPoints& third) {
  const SpeedPoints full{{6.0, 18.0}, {6.0, 0.0}, {6.0, 0.0}};  // 3 m/s^2
  return find_runs(speed_series(drawn_log(rest + full + full + third + SpeedPoints{{0.5, 0.0}, {4.0, 0.0}})),
                   {parse_splits("0-50 km/h")});
}

/// "run", or the code under which the last start is listed.
std::string third_is(const SpeedPoints& third) {
  const Runs runs = runs_after_two(third);
  const std::size_t seen = runs.accepted.size() + runs.rejected.size();
  CHECK(seen == 3);
  return runs.accepted.size() == 3 || runs.rejected.empty() ? "run" : runs.rejected.back().code;
}

}  // namespace

TEST_CASE("a loss of 0.5 m/s is no lift, one of 1.5 m/s is", "[run]") {
  const auto lost = [](double loss_mps) {
    // Then on at 2 m/s^2, so that nothing else ends the climb.
    return rest +
           SpeedPoints{{4.5, 9.0}, {0.3, 9.0 - loss_mps}, {0.3, 9.0 - loss_mps}, {5.0, 18.0}, {8.0, 0.0}};
  };
  CHECK_THAT(top_mps(lost(0.5)), WithinAbs(18.0, 0.5));
  CHECK_THAT(top_mps(lost(1.5)), WithinAbs(9.0, 0.5));
}

TEST_CASE("a steady speed for 1.2 s is no lift, for 2.6 s it is", "[run]") {
  const auto held = [](double time_s) {
    return rest + SpeedPoints{{3.0, 9.0}, {time_s, 9.0}, {3.0, 18.0}, {8.0, 0.0}};
  };
  CHECK_THAT(top_mps(held(1.2)), WithinAbs(18.0, 0.5));
  CHECK_THAT(top_mps(held(2.6)), WithinAbs(9.0, 0.5));
}

TEST_CASE("what gains 2.2 m/s is no start, what gains 2.9 m/s is", "[run]") {
  const auto risen = [](double top) {
    return rest + SpeedPoints{{1.0, top}, {1.5, top}, {1.0, 0.0}, {6.0, 0.0}};
  };
  CHECK(starts_in(risen(2.2)).standing.empty());
  CHECK(starts_in(risen(2.9)).standing.size() == 1);
}

TEST_CASE("a roll of 5.2 m/s begins a rolling start, one of 6 m/s none", "[run]") {
  const auto rolled = [](double roll_mps) {
    return rest +
           SpeedPoints{{4.0, 12.0}, {3.0, roll_mps}, {1.5, roll_mps}, {3.0, roll_mps + 8.0}, {8.0, 0.0}};
  };
  const Starts starts = starts_in(rolled(5.2));
  REQUIRE(starts.rolling.size() == 1);
  CHECK_THAT(starts.rolling.front().from_mps, WithinAbs(5.2, 0.5));
  CHECK_THAT(starts.rolling.front().top_mps, WithinAbs(13.2, 0.3));
  CHECK(starts_in(rolled(6.0)).rolling.empty());
}

TEST_CASE("throttle from a roll that gives 0.8 m/s^2 is riding on, 1.3 m/s^2 a rolling start", "[run]") {
  const auto opened = [](double accel_mps2) {
    return rest + SpeedPoints{{4.0, 12.0}, {3.0, 4.0}, {1.5, 4.0}, {6.0 / accel_mps2, 10.0}, {8.0, 0.0}};
  };
  CHECK(starts_in(opened(0.8)).rolling.empty());
  CHECK(starts_in(opened(1.3)).rolling.size() == 1);
}

TEST_CASE("a roll that gains 2.1 m/s is no rolling start, one that gains 3 m/s is", "[run]") {
  const auto gained = [](double gain_mps) {
    return rest + SpeedPoints{{4.0, 12.0}, {3.0, 4.0}, {1.5, 4.0}, {1.0, 4.0 + gain_mps}, {2.0, 0.0}};
  };
  CHECK(starts_in(gained(2.1)).rolling.empty());
  CHECK(starts_in(gained(3.0)).rolling.size() == 1);
}

TEST_CASE("a flicker of 0.2 s does not end a rest, one of 0.7 s does", "[run]") {
  const auto flickered = [](double time_s) {
    return rest + SpeedPoints{{0.05, 0.7}, {time_s, 0.7}, {0.05, 0.0}, {4.0, 0.0}, {5.0, 15.0}, {8.0, 0.0}};
  };
  const Starts whole = starts_in(flickered(0.2));
  REQUIRE(whole.standing.size() == 1);
  CHECK_THAT(whole.standing.front().rest_s, WithinAbs(10.3, 0.3));
  const Starts parted = starts_in(flickered(0.7));
  REQUIRE(parted.standing.size() == 1);
  CHECK_THAT(parted.standing.front().rest_s, WithinAbs(4.0, 0.3));
}

TEST_CASE("a start after 0.7 s at rest is short, one after 1.1 s a run", "[run]") {
  // The roll before it is a start to 6 m/s of its own, let off before the mark.
  const auto after = [](double rest_s) {
    return runs_after_two({{2.0, 6.0}, {2.0, 0.0}, {rest_s, 0.0}, {6.0, 18.0}, {6.0, 0.0}});
  };
  const Runs brief = after(0.7);
  REQUIRE(brief.rejected.size() == 2);
  CHECK(brief.rejected.back().code == "short");
  CHECK(after(1.1).accepted.size() == 3);
}

TEST_CASE("a start with 70 % of the log's best pull is gentle, one with 80 % a run", "[run]") {
  const auto pulled = [](double share) { return third_is({{6.0 / share, 18.0}, {6.0, 0.0}}); };
  CHECK(pulled(0.70) == "gentle");
  CHECK(pulled(0.80) == "run");
}

TEST_CASE("rolling to 5 m/s is short, letting off at 6 m/s is lifted", "[run]") {
  const auto let_off = [](double top_mps) { return third_is({{top_mps / 3.0, top_mps}, {3.0, 0.0}}); };
  CHECK(let_off(5.0) == "short");
  CHECK(let_off(6.0) == "lifted");
}

TEST_CASE("a silence after a rest hides a start where the log goes on at 11 m/s, and none at 13 m/s",
          "[run]") {
  for (const double back_mps : {11.0, 13.0}) {
    Log log = drawn_log(rest + SpeedPoints{{4.0, back_mps}, {4.0, back_mps}, {8.0, 0.0}});
    std::erase_if(log.fixes, [&](const Fix& fix) {
      const double t_s = seconds_between(log.fixes.front().time, fix.time);
      return t_s > 5.5 && t_s < 10.5;
    });
    CAPTURE(back_mps);
    CHECK(detect_starts(speed_series(log)).hidden.size() == (back_mps < 12.0 ? 1U : 0U));
  }
}

TEST_CASE("positions that jump ahead where the vehicle gets away are no lift", "[run]") {
  const SpeedPoints ride =
      SpeedPoints{{0.0, 0.0}, {12.0, 0.0}} + SpeedPoints{{6.0, 18.0}, {6.0, 0.0}, {12.0, 0.0}};
  const auto ahead = [](double t_s) { return t_s < 12.5 ? 0.0 : 5.0; };  // steps of 6.5, 4.5 and 7.5 m
  const Starts starts = detect_starts(speed_series(drawn_positions(ride, 1.0, ahead)));
  REQUIRE(starts.standing.size() == 1);
  CHECK_THAT(starts.standing.front().top_mps, WithinAbs(18.0, 2.0));
}

TEST_CASE("what wanders on the spot for seconds has stood as long, a roll of a second has not", "[run]") {
  const SpeedPoints ride = SpeedPoints{{0.0, 8.0}, {5.0, 8.0}} +
                           SpeedPoints{{4.0, 0.0}, {8.0, 0.0}, {6.0, 18.0}, {6.0, 0.0}, {12.0, 0.0}};
  const auto wandering = [](double t_s) { return t_s > 9.5 && t_s < 17.5 ? 0.8 * std::sin(1.3 * t_s) : 0.0; };
  const Starts wanders = detect_starts(speed_series(drawn_positions(ride, 1.0, wandering)));
  REQUIRE(wanders.standing.size() == 1);
  CHECK(wanders.standing.front().rest_s > 5.0);
  const SpeedPoints turned = SpeedPoints{{0.0, 8.0}, {5.0, 8.0}} +
                             SpeedPoints{{4.0, 0.0}, {0.2, 0.0}, {6.0, 18.0}, {6.0, 0.0}, {12.0, 0.0}};
  for (const StandingStart& start :
       detect_starts(speed_series(drawn_positions(turned, 1.0, [](double) { return 0.0; }))).standing) {
    CHECK(start.rest_s < 1.5);
  }
}
