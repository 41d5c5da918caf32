// Each limit of the trip, tried on both sides (docs/method.md, section 12).

#include "bothways/trip/trip.hpp"
#include "lib/trip/trip_rides.hpp"
#include "support/drawn_log.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// A steady ride of 200 s at 10 m/s, one reading a second, whose speed is off in `rows` readings.
Trip off_for(std::size_t rows, double off_mps) {
  Log log = drawn_log({{0.0, 10.0}, {200.0, 10.0}}, 1.0);
  for (std::size_t i = 100; i < 100 + rows; ++i) {
    log.fixes[i].speed_mps += off_mps;
  }
  return trip_in(log);
}

/// A ride at 10 m/s, due north at 10 Hz, with a silence in it.
Log silent_for(double silence_s, bool with_positions, double gap_mps = 10.0) {
  Log log = drawn_log({{0.0, 10.0}, {120.0, 10.0}});
  const Instant begin = log.fixes.front().time;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const bool after = i >= log.fixes.size() / 2;
    const double travel_m =
        10.0 * seconds_between(begin, log.fixes[i].time) + (after ? gap_mps * silence_s : 0.0);
    if (with_positions) {
      log.fixes[i].lat_deg = 46.0 + travel_m / 111'148.0;  // metres in a degree there
      log.fixes[i].lon_deg = 8.0;
    }
    log.fixes[i].time = shifted(log.fixes[i].time, after ? silence_s : 0.0);
  }
  return log;
}

/// A ride of ten minutes at 12 m/s with 10 s at rest at either end, over heights told by the time in motion.
Trip over(const std::function<double(double)>& height_at, double rest_wander_m = 0.0) {
  Log log =
      drawn_log({{0.0, 0.0}, {10.0, 0.0}, {13.0, 12.0}, {613.0, 12.0}, {617.0, 0.0}, {630.0, 0.0}}, 2.0);
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const double t_s = 0.5 * static_cast<double>(i) - 13.0;
    const bool stands = t_s < -3.0 || t_s > 604.0;
    log.fixes[i].ele_m =
        height_at(std::clamp(t_s, 0.0, 600.0)) + (stands && i % 2 == 0 ? rest_wander_m : 0.0);
  }
  return trip_in(log);
}

/// Up and down again, `times` over.
std::function<double(double)> hills(double height_m, double times) {
  return
      [=](double t_s) { return 100.0 + 0.5 * height_m * (1.0 - std::cos(2.0 * M_PI * times * t_s / 600.0)); };
}

}  // namespace

TEST_CASE("speeds that stand out by 18 m/s from second to second are left out of a trip, by 11 m/s not",
          "[trip]") {
  const Trip wild = off_for(14, 18.0);
  CHECK_THAT(wild.sustained_5s_mps.value, WithinAbs(10.0, 0.2));
  CHECK_THAT(wild.distance_m.value, WithinAbs(2000.0, 10.0));
  CHECK(wild.readings == 201 - 14);
  const Trip quick = off_for(14, 11.0);
  CHECK_THAT(quick.sustained_5s_mps.value, WithinAbs(21.0, 0.2));
  CHECK(quick.readings == 201);
}

TEST_CASE("a piece that fits to nothing is left out if it lasts less than a minute", "[trip]") {
  CHECK_THAT(off_for(55, 18.0).sustained_5s_mps.value, WithinAbs(10.0, 0.2));
  CHECK_THAT(off_for(70, 18.0).sustained_5s_mps.value, WithinAbs(28.0, 0.2));
}

TEST_CASE("without positions a gap of 14 s is bridged by the speeds at its ends, one of 16 s is open",
          "[trip]") {
  const Trip bridged = trip_in(silent_for(14.0, false));
  CHECK(bridged.gaps_bridged == 1);
  CHECK_THAT(bridged.bridged_m, WithinAbs(141.0, 1.0));
  const Trip open = trip_in(silent_for(16.0, false));
  CHECK(open.gaps_bridged == 0);
  CHECK(open.gaps_open == 1);
  CHECK_THAT(open.distance_m.value, WithinAbs(1200.0, 2.0));
}

TEST_CASE("with positions a gap of 580 s is bridged straight on, one of 620 s is open", "[trip]") {
  const Trip bridged = trip_in(silent_for(580.0, true));
  CHECK(bridged.gaps_bridged == 1);
  CHECK_THAT(bridged.bridged_m, WithinAbs(5801.0, 10.0));
  CHECK(trip_in(silent_for(620.0, true)).gaps_open == 1);
}

TEST_CASE("a gap is bridged at 12 m/s where 10 m/s was ridden, and open at 14 m/s", "[trip]") {
  // Limit: 1.1 times the highest speed, and 2 m/s.
  CHECK(trip_in(silent_for(100.0, true, 12.0)).gaps_bridged == 1);
  CHECK(trip_in(silent_for(100.0, true, 14.0)).gaps_open == 1);
}

TEST_CASE("standing for 2 s is riding on, for 4 s a stop", "[trip]") {
  const auto stood = [](double stood_s) {
    return trip_in(drawn_log({{0.0, 0.0},
                              {5.0, 0.0},
                              {10.0, 12.0},
                              {30.0, 12.0},
                              {34.0, 0.0},
                              {34.0 + stood_s, 0.0},
                              {39.0 + stood_s, 12.0},
                              {60.0, 12.0},
                              {64.0, 0.0},
                              {70.0, 0.0}}));
  };
  CHECK(stood(2.0).stops == 0);
  CHECK_THAT(stood(2.0).stopped_s, WithinAbs(5.0 + 6.0, 0.5));
  CHECK(stood(4.0).stops == 1);
  CHECK_THAT(stood(4.0).stopped_s, WithinAbs(5.0 + 4.0 + 6.0, 0.7));
}

TEST_CASE("a distance bridged straight on is known to 15 %, one that was read far better", "[trip]") {
  const Trip bridged = trip_in(silent_for(300.0, true));
  CHECK_THAT(bridged.distance_m.sd, WithinAbs(0.15 * bridged.bridged_m, 5.0));
  CHECK(trip_in(drawn_log({{0.0, 10.0}, {400.0, 10.0}})).distance_m.sd < 20.0);
}

TEST_CASE("a shove of 1.8 m is no riding, one of 5 m is", "[trip]") {
  const auto moved_m = [](double v_mps) {
    return trip_in(
               drawn_log({{0.0, 0.0}, {20.0, 0.0}, {20.2, v_mps}, {22.0, v_mps}, {22.2, 0.0}, {40.0, 0.0}}))
        .distance_m.value;
  };
  CHECK(moved_m(0.9) == 0.0);
  CHECK_THAT(moved_m(2.5), WithinAbs(5.0, 0.3));
}

TEST_CASE("rises of 4 m do not count, rises of 7 m count in full", "[trip]") {
  CHECK(over(hills(4.0, 2.0)).climb_m.value == 0.0);
  CHECK_THAT(over(hills(7.0, 2.0)).climb_m.value, WithinAbs(14.0, 0.2));
}

TEST_CASE("heights that wander by 8 m at rest tell a climb whose rises are as high, by 12 m none", "[trip]") {
  const Trip some = over(hills(20.0, 2.0), 8.0);
  CHECK_THAT(some.climb_turn_m, WithinAbs(8.0, 0.1));
  CHECK_THAT(some.climb_m.value, WithinAbs(40.0, 0.5));
  CHECK(over(hills(7.0, 2.0), 8.0).climb_m.value == 0.0);
  CHECK_FALSE(is_known(over(hills(20.0, 2.0), 12.0).climb_m.value));
}

TEST_CASE("a street that climbs by 18 % is one, by 28 % none", "[trip]") {
  // Mean heights are 5 s, 60 m apart; 2 m and 20 % of that are 14 m.
  const auto climbing = [](double share) {
    return over([share](double t_s) { return 100.0 + share * 12.0 * std::abs(std::remainder(t_s, 100.0)); });
  };
  CHECK(is_known(climbing(0.18).climb_m.value));
  CHECK_FALSE(is_known(climbing(0.28).climb_m.value));
}

TEST_CASE("a height of 9500 m or of -600 m is none", "[trip]") {
  for (const double odd_m : {9500.0, -600.0}) {
    const Trip trip = over([odd_m](double t_s) { return std::abs(t_s - 300.0) < 2.0 ? odd_m : 100.0; });
    CHECK(trip.climb_m.value == 0.0);
  }
}

TEST_CASE("the interval of a climb is its turn and twice a height's sd for each rise", "[trip]") {
  const Trip trip = over(hills(20.0, 3.0));
  CHECK_THAT(trip.climb_m.value, WithinAbs(60.0, 0.5));
  CHECK_THAT(trip.climb_m.hi95 - trip.climb_m.value, WithinAbs(5.0 + 2.0 * 3.0 * 1.0, 0.1));
}
