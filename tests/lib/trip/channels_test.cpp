#include "bothways/trip/channels.hpp"

#include "lib/trip/trip_rides.hpp"
#include "support/simulate/receiver.hpp"
#include "support/simulate/ride.hpp"

#include <catch2/catch.hpp>

#include <cmath>

using namespace bothways;
using Catch::Matchers::WithinAbs;

TEST_CASE("channels are summarised standing against moving, with their drift", "[trip]") {
  Log log = sim::receive(lights_and_runs(71), {}, 72);
  log.channels = {{"battery_v", {}}, {"empty", {}}};
  const Instant begin = log.fixes.front().time;
  sim::Random random(73);
  for (const Fix& fix : log.fixes) {
    // 13.8 V moving, 12.4 V standing, 0.6 V an hour down
    log.channels[0].value.push_back((fix.speed_mps > 2.0 ? 13.8 : 12.4) -
                                    0.6 * seconds_between(begin, fix.time) / 3600.0);
    log.channels[1].value.push_back(unknown);
  }
  const Trip trip = trip_in(log);
  REQUIRE(trip.channels.size() == 1);
  const ChannelSummary& battery = trip.channels.front();
  CHECK(battery.name == "battery_v");
  CHECK(battery.standing.n + battery.moving.n == log.fixes.size());
  CHECK_THAT(battery.standing.median, WithinAbs(12.4, 0.1));  // 0.06 V of drift within the ride
  CHECK_THAT(battery.moving.median, WithinAbs(13.8, 0.1));
  CHECK_THAT(battery.moving.max, WithinAbs(13.8, 0.1));
}

TEST_CASE("the drift of a channel is that of a steady slope", "[trip]") {
  Log log = sim::receive(lights_and_runs(71), {}, 72);
  log.channels = {{"battery_v", {}}};
  for (const Fix& fix : log.fixes) {
    log.channels[0].value.push_back(12.8 - 0.6 * seconds_between(log.fixes.front().time, fix.time) / 3600.0);
  }
  const ChannelSummary battery = trip_in(log).channels.front();
  const double lasts_h = seconds_between(log.fixes.front().time, log.fixes.back().time) / 3600.0;
  CHECK_THAT(battery.drift.value, WithinAbs(-0.6 * lasts_h, 1e-3));
  CHECK(battery.drift.lo95 <= battery.drift.value);
  CHECK(battery.drift.hi95 >= battery.drift.value);
  CHECK(is_known(battery.drift_per_h) == (lasts_h >= 0.5));
}

TEST_CASE("the interval of a drift holds the truth where neighbours err alike", "[trip]") {
  Log log = sim::receive(lights_and_runs(71), {}, 72);
  const Instant begin = log.fixes.front().time;
  const double lasts_h = seconds_between(begin, log.fixes.back().time) / 3600.0;
  std::size_t held = 0;
  double width = 0.0;
  for (std::uint64_t seed = 1; seed <= 24; ++seed) {
    sim::Random random(seed);
    Channel battery{"battery_v", {}};
    double sag_v = 0.0;  // sd 0.1 V, forgotten in 20 s
    for (const Fix& fix : log.fixes) {
      const double keep = std::exp(-0.1 / 20.0);  // ten fixes a second
      sag_v = keep * sag_v + 0.1 * std::sqrt(1.0 - keep * keep) * random.normal();
      battery.value.push_back(12.8 - 0.6 * seconds_between(begin, fix.time) / 3600.0 + sag_v);
    }
    log.channels = {battery};
    const Estimate drift = trip_in(log).channels.front().drift;
    held += drift.lo95 <= -0.6 * lasts_h && -0.6 * lasts_h <= drift.hi95 ? 1U : 0U;
    width += (drift.hi95 - drift.lo95) / 24.0;
  }
  CHECK(width < 0.74);  // twice that of a straight line with this sag, told its size
  CHECK(held >= 21);    // of 24; 1.2 misses expected
}
