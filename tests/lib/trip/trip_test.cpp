#include "bothways/trip/trip.hpp"

#include "bothways/core/units.hpp"
#include "bothways/log/read.hpp"
#include "bothways/speed/derive.hpp"
#include "lib/trip/trip_rides.hpp"
#include "support/real_logs.hpp"
#include "support/simulate/receiver.hpp"
#include "support/simulate/ride.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <stdexcept>

using namespace bothways;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

/// Highest speed that the true mean speed over 2 half_s did not fall below for so long.
double true_sustained_mps(const sim::Truth& truth, double duration_s, double half_s) {
  constexpr double step_s = 0.1;
  sim::TruthReader reader(truth);
  std::vector<double> travel_m;
  for (double t = 0.0; t < truth.duration_s(); t += step_s) {
    travel_m.push_back(reader.at(t).s_m);
  }
  const auto half = static_cast<std::size_t>(std::max(1L, std::lround(half_s / step_s)));
  std::vector<double> v_mps;
  for (std::size_t i = half; i + half < travel_m.size(); ++i) {
    v_mps.push_back((travel_m[i + half] - travel_m[i - half]) / (2.0 * static_cast<double>(half) * step_s));
  }
  const auto n = static_cast<std::ptrdiff_t>(std::lround(duration_s / step_s)) + 1;
  double best = 0.0;
  for (auto at = v_mps.begin(); v_mps.end() - at >= n; ++at) {
    best = std::max(best, *std::min_element(at, at + n));
  }
  return best;
}

/// Stops of 3 s or more between two rides, and the time at rest.
struct Stops {
  std::size_t count = 0;
  double stopped_s = 0.0;
};
Stops true_stops(const sim::Truth& truth) {
  Stops stops;
  constexpr double step_s = 0.01;
  sim::TruthReader reader(truth);
  double stood_s = 0.0;
  bool ridden = false;
  for (double t = 0.0; t < truth.duration_s(); t += step_s) {
    if (reader.at(t).v_mps < 0.05) {
      stood_s += step_s;
      stops.stopped_s += step_s;
      continue;
    }
    stops.count += ridden && stood_s >= 3.0 ? 1 : 0;
    stood_s = 0.0;
    ridden = true;
  }
  return stops;
}

struct Cell {
  const char* name;
  sim::ReceiverModel model;
  double time_s;  // moving and stopped: so many seconds off in all
  double half_s;  // of the mean over which sustained speed is taken
};

std::vector<Cell> cells() {
  sim::ReceiverModel good;
  sim::ReceiverModel phone;
  phone.rate_hz = 1.0;
  phone.white_sd_mps = 0.15;
  phone.slow_sd_mps = 0.15;
  phone.lag_s = 0.2;
  phone.zero_hold_mps = 0.5;
  sim::ReceiverModel places;
  places.rate_hz = 5.0;
  places.with_speed = false;
  sim::ReceiverModel gappy = good;
  gappy.dropouts_per_min = 1.0;
  gappy.dropout_s = 6.0;
  sim::ReceiverModel outliers = good;
  outliers.spikes_per_min = 6.0;
  outliers.spike_mps = 30.0;
  outliers.jams_per_min = 2.0;
  return {{"good", good, 8.0, 0.5},
          {"phone", phone, 25.0, 1.05},
          {"places", places, 20.0, 0.1},
          {"gappy", gappy, 25.0, 0.5},
          {"outliers", outliers, 12.0, 0.5}};
}

}  // namespace

TEST_CASE("distance, time and stops agree with the simulated truth", "[trip]") {
  for (const Cell& cell : cells()) {
    for (const std::uint64_t seed : {11U, 12U, 13U}) {
      CAPTURE(cell.name, seed);
      const sim::Truth truth = lights_and_runs(seed);
      const Trip trip = trip_in(sim::receive(truth, cell.model, seed + 100));
      const double distance_m = truth.rows.back().s_m;
      const Stops stops = true_stops(truth);
      // Fifteen looks: 3.5 sd of each is one false alarm in a hundred runs of this test.
      CHECK(std::abs(trip.distance_m.value - distance_m) < 3.5 * trip.distance_m.sd);
      CHECK(trip.distance_m.sd < 0.03 * distance_m);
      CHECK_THAT(trip.stopped_s, WithinAbs(stops.stopped_s, cell.time_s));
      CHECK_THAT(trip.moving_s + trip.stopped_s + trip.unlogged_s, WithinAbs(truth.duration_s(), 2.0));
      CHECK(trip.stops == stops.count);
      for (const double hold_s : {1.0, 5.0}) {
        const Estimate& held = hold_s > 2.0 ? trip.sustained_5s_mps : trip.sustained_1s_mps;
        const double truly = true_sustained_mps(truth, hold_s, cell.half_s);
        UNSCOPED_INFO(hold_s << " s: " << held.value << " truly " << truly << " sd " << held.sd);
        CHECK(std::abs(held.value - truly) < 3.5 * held.sd);
      }
      CHECK_THAT(trip.town_m + trip.open_m, WithinRel(trip.distance_m.value, 1e-9));
    }
  }
}

TEST_CASE("a spike or a jammed receiver is no record", "[trip]") {
  const sim::Truth truth = lights_and_runs(21);
  for (const double spike_mps : {3.0, 30.0, 100.0}) {
    sim::ReceiverModel model;
    model.spikes_per_min = 10.0;
    model.spike_mps = spike_mps;
    model.jams_per_min = 3.0;
    const Trip trip = trip_in(sim::receive(truth, model, 22));
    CAPTURE(spike_mps);
    CHECK(trip.sustained_1s_mps.value < true_sustained_mps(truth, 0.1, 0.1) + 0.3);
    CHECK_THAT(trip.distance_m.value, WithinRel(truth.rows.back().s_m, 0.01));
  }
}

TEST_CASE("road between stops less than a kilometre apart is town-like, the rest open", "[trip]") {
  const sim::Truth near = lights_and_runs(31);
  CHECK(trip_in(sim::receive(near, {}, 32)).open_m == 0.0);
  const sim::Truth far = lights_and_runs(31, 2500.0);
  const Trip trip = trip_in(sim::receive(far, {}, 32));
  CHECK_THAT(trip.open_m, WithinAbs(far.rows.back().s_m - near.rows.back().s_m, 15.0));
}

TEST_CASE("travel by speed agrees with the geodesic between the places", "[trip]") {
  // One straight ride: the geodesic from end to end is its length [KARNEY13].
  const sim::Script script{sim::stand(5.0), sim::gentle_start(13.0), sim::travel(4000.0, 15.0),
                           sim::stand(5.0)};
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script, 41);
  for (const bool with_speed : {true, false}) {
    sim::ReceiverModel model;
    model.with_speed = with_speed;
    const Log log = sim::receive(truth, model, 42);
    const Fix& a = log.fixes.front();
    const Fix& b = log.fixes.back();
    const double straight_m = geodesic_between({a.lat_deg, a.lon_deg}, {b.lat_deg, b.lon_deg}).distance_m;
    CAPTURE(with_speed);
    CHECK_THAT(trip_in(log).distance_m.value,
               WithinAbs(straight_m, 12.0));  // drift of places 1.5 m, speed 0.1 %
  }
}

TEST_CASE("a gap is bridged straight on and told, a long one is not counted", "[trip]") {
  const sim::Script script{sim::stand(5.0), sim::gentle_start(13.0), sim::travel(6000.0, 15.0),
                           sim::stand(5.0)};
  const sim::Truth truth = sim::ride(sim::scooter(), {}, script, 51);
  Log log = sim::receive(truth, {}, 52);
  const auto without = [&log](double from_s, double to_s) {
    Log cut = log;
    cut.fixes.erase(std::remove_if(cut.fixes.begin(), cut.fixes.end(),
                                   [&](const Fix& fix) {
                                     const double t_s = seconds_between(log.fixes.front().time, fix.time);
                                     return t_s > from_s && t_s < to_s;
                                   }),
                    cut.fixes.end());
    return cut;
  };
  const Trip bridged = trip_in(without(100.0, 160.0));
  CHECK(bridged.gaps_bridged == 1);
  CHECK(bridged.gaps_open == 0);
  CHECK_THAT(bridged.bridged_m, WithinAbs(60.0 * 15.0, 20.0));
  CHECK_THAT(bridged.distance_m.value, WithinAbs(truth.rows.back().s_m, 20.0));
  CHECK_THAT(bridged.moving_s, WithinAbs(trip_in(log).moving_s, 3.0));

  for (Fix& fix : log.fixes) {  // half an hour later the log goes on
    if (seconds_between(log.fixes.front().time, fix.time) > 160.0) {
      fix.time.unix_us += 1'800'000'000;
    }
  }
  const Trip open = trip_in(log);
  CHECK(open.gaps_open == 1);
  CHECK_THAT(open.unlogged_s, WithinAbs(1800.1, 0.2));
  CHECK_THAT(open.distance_m.value, WithinAbs(truth.rows.back().s_m, 10.0));
}

TEST_CASE("49.9 mi on 1.153 US gal are 43.28 mpg", "[trip]") {
  // common practice, no source
  const Consumption fuel =
      consumption_of(1.153 * l_per_us_gallon, normal_estimate(49.9 * m_per_mile, 0.002 * 49.9 * m_per_mile));
  CHECK_THAT(fuel.mpg_us.value, WithinAbs(43.28, 0.005));
  CHECK_THAT(fuel.mpg_us.sd, WithinAbs(0.002 * 43.28, 1e-3));
  CHECK_THAT(fuel.l_per_100km.value * fuel.mpg_us.value, WithinAbs(235.214583333, 1e-6));  // [NIST811]
  CHECK_THAT(fuel.l_per_100km.value * fuel.mpg_imp.value, WithinAbs(282.480936332, 1e-6));
  const Consumption brief = consumption_of(1.0, normal_estimate(1700.0, 5.0));
  CHECK_FALSE(is_known(brief.l_per_100km.value));  // a full tank against a mile
  CHECK(brief.fuel_l == 1.0);
  CHECK_THROWS_AS(consumption_of(0.0, normal_estimate(1.0, 0.0)), std::invalid_argument);
  CHECK_THROWS_AS(consumption_of(1.0, normal_estimate(0.0, 0.0)), std::invalid_argument);
}

TEST_CASE("all logs together are the sum of each", "[trip]") {
  const Trip a = trip_in(sim::receive(lights_and_runs(81), {}, 82));
  const Trip b = trip_in(sim::receive(lights_and_runs(83), {}, 84));
  const Trip all = all_of(std::vector{a, b});
  CHECK_THAT(all.distance_m.value, WithinRel(a.distance_m.value + b.distance_m.value, 1e-12));
  CHECK_THAT(all.distance_m.sd, WithinRel(std::hypot(a.distance_m.sd, b.distance_m.sd), 1e-12));
  CHECK(all.stops == a.stops + b.stops);
  CHECK(all.sustained_1s_mps.value == std::max(a.sustained_1s_mps.value, b.sustained_1s_mps.value));
}

TEST_CASE("a log without speeds and places gives a note and no figures", "[trip]") {
  Log log;
  log.fixes = {Fix{.time = {0}}, Fix{.time = {1'000'000}}};
  const Trip trip = trip_in(log);
  REQUIRE(trip.notes.size() == 1);
  CHECK(trip.notes.front().code == "no-speed");
  CHECK(trip.distance_m.value == 0.0);
}

TEST_CASE("real logs are ridden the length that their reference says", "[trip][reallog]") {
  const auto folder = real_logs("truth");
  if (!folder) {
    return;
  }
  const std::filesystem::path& truth = *folder;
  // 4169.8 m by the reference of 0.02 m/s; the log has gaps and wild places.
  const Trip nagoya = trip_in(read_log((truth / "nagoya2023_spp1hz/log.nmea").string()));
  CHECK(std::abs(nagoya.distance_m.value - 4169.8) < 2.0 * nagoya.distance_m.sd);
  // The city is flat, and its high houses hide satellites: heights from -39 to 239 m.
  for (const char* log : {"nagoya2023_spp1hz/log.nmea", "nagoya2023_rtk5hz_posonly/log.nmea"}) {
    CHECK_FALSE(is_known(trip_in(read_log((truth / log).string())).climb_m.value));
  }
  CHECK(nagoya.stops == 12);
  CHECK_THAT(nagoya.sustained_5s_mps.value, WithinAbs(13.59, 0.3));
  // Positions only: wheel speed gives 23.0 km, without 2.4 minutes at its end.
  const Trip dearborn = trip_in(read_log((truth / "dearborn_can_posonly/log.gpx").string()));
  CHECK_THAT(dearborn.distance_m.value, WithinRel(23'044.0, 0.01));
}
