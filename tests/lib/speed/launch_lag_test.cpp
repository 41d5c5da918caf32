#include "bothways/speed/launch_lag.hpp"

#include "bothways/speed/derive.hpp"
#include "bothways/speed/rest.hpp"
#include "lib/speed/fading.hpp"
#include "lib/speed/rides.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

/// What speeds of a lag that fades lose: eq. (1.9).
Departure departure(double lag_s, double excess_s, double fades_by_mps, double place_m) {
  Departure d;
  for (; d.levels < departure_levels_mps.size(); ++d.levels) {
    const double z = departure_levels_mps[d.levels];
    const double faded = std::min(z, fades_by_mps);
    d.missing_m[d.levels] = place_m + lag_s * z + excess_s * (faded - 0.5 * faded * faded / fades_by_mps);
  }
  return d;
}

LaunchLag found_in(const Log& log) {
  const SpeedSeries series = speed_series(log);
  return estimate_launch_lag(
      departures(series.stretches, series.receiver, rest_threshold_mps(series.receiver, series.source)));
}

double fading_weight(const std::vector<Smoothing>& all) {
  double weight = 0.0;
  for (const Smoothing& s : all) {
    weight += s.filter.fades() ? s.weight : 0.0;
  }
  return weight;
}

}  // namespace

TEST_CASE("an excess of lag near rest is told from a lag that stays, and from where the places are off",
          "[speed]") {
  for (const double fades_by_mps : {1.5, 2.5, 4.0, 7.0}) {
    std::vector<Departure> all;
    for (const double place_m : {-0.2, 0.1, 0.0, -0.1, 0.2}) {
      all.push_back(departure(0.3, 0.5, fades_by_mps, place_m));
    }
    const LaunchLag lag = estimate_launch_lag(all);
    CAPTURE(fades_by_mps);
    CHECK(lag.fades_by_mps == fades_by_mps);
    CHECK_THAT(lag.excess_s, WithinAbs(0.5, 1e-9));  // the median departure is exact
    CHECK(lag.sd_s > 0.02);
    CHECK(lag.sd_s < 0.2);
  }
}

TEST_CASE("four departures cannot tell", "[speed]") {
  CHECK(estimate_launch_lag(std::vector<Departure>(4, departure(0.0, 0.5, 4.0, 0.0))).sd_s == 0.0);
}

TEST_CASE("a receiver that smooths most near rest is found to 0.15 s", "[speed]") {
  for (const double lag_s : {0.5, 0.8}) {
    const LaunchLag lag = found_in(faded(logged({}, 61), lag_s, 6.0));
    CAPTURE(lag_s, lag.excess_s, lag.sd_s, lag.fades_by_mps);
    // Half of the way that is lost is what matters: lag times the speed by which it is gone.
    CHECK_THAT(lag.excess_s * lag.fades_by_mps, WithinAbs(lag_s * 6.0, 0.15 * 6.0));
    CHECK(lag.excess_s > 2.0 * lag.sd_s);
  }
}

TEST_CASE("a lag that stays is none of the launches, and the excess is within its sd", "[speed][trials]") {
  double sum = 0.0;
  double squares = 0.0;
  constexpr int logs = 30;
  for (const double lag_s : {0.0, 0.3}) {
    for (std::uint64_t seed = 201; seed < 201 + logs; ++seed) {
      sim::ReceiverModel model;
      model.lag_s = lag_s;
      const LaunchLag lag = found_in(logged(model, seed));
      sum += lag.excess_s;
      squares += lag.excess_s * lag.excess_s / (lag.sd_s * lag.sd_s);
    }
  }
  CHECK_THAT(sum / (2 * logs), WithinAbs(0.0, 0.05));
  CHECK(squares / (2 * logs) > 0.5);
  CHECK(squares / (2 * logs) < 3.0);
}

TEST_CASE("positions that come as late as the speeds hide the lag near rest", "[speed]") {
  sim::ReceiverModel model;
  model.lag_s = model.position_lag_s = 0.4;
  double sum = 0.0;
  for (std::uint64_t seed = 301; seed < 313; ++seed) {
    sum += found_in(logged(model, seed)).excess_s / 12.0;
  }
  CHECK_THAT(sum, WithinAbs(0.0, 0.1));  // of one log known to 0.15 s or so
}

TEST_CASE("a filter that fades is a candidate from 1.8 sd on, the surer the heavier", "[speed]") {
  const std::vector<Smoothing> others{{{}, 0.6}, {{.lag_s = 0.2}, 0.4}};
  CHECK(with_launch_lag(others, {}).size() == 2);
  CHECK(with_launch_lag(others, {0.3, 0.17, 4.0}).size() == 2);   // less than 1.8 sd
  CHECK(with_launch_lag(others, {0.11, 0.01, 4.0}).size() == 2);  // too little to matter
  CHECK(with_launch_lag(others, {-0.5, 0.1, 4.0}).size() == 2);
  double last = 0.0;
  for (const double sd_s : {0.14, 0.12, 0.1}) {
    const std::vector<Smoothing> all = with_launch_lag(others, {0.3, sd_s, 4.0});
    REQUIRE(all.size() == 3);
    CHECK(all.back().filter == SpeedFilter{.lag_s = 0.3, .fades_by_mps = 4.0});
    CHECK(all.back().weight > last);
    CHECK_THAT(all[0].weight + all[1].weight + all[2].weight, WithinAbs(1.0, 1e-12));
    last = all.back().weight;
  }
  CHECK_THAT(fading_weight(with_launch_lag(others, {0.3, 1e-3, 4.0})), WithinAbs(0.8, 1e-12));
}

TEST_CASE("a filter that fades has its lag at rest, none at speed, and stays a filter", "[speed]") {
  const SpeedFilter filter{.lag_s = 0.6, .fades_by_mps = 4.0};
  CHECK(filter.at(0.0).lag_s == 0.6);
  CHECK_THAT(filter.at(1.0).lag_s, WithinAbs(0.45, 1e-12));
  CHECK_THAT(filter.at(3.0).lag_s, WithinAbs(0.15, 1e-12));
  CHECK(filter.at(9.0).lag_s > 0.0);
  CHECK(filter.at(9.0).lag_s < 0.02);
  CHECK(filter.delay_s() == 0.0);
  CHECK(SpeedFilter{.lag_s = 0.6}.at(9.0) == SpeedFilter{.lag_s = 0.6});
}

TEST_CASE("the series of a log below 4 Hz has no filter that fades", "[speed]") {
  const Log fast = faded(logged({}, 64), 0.9, 6.0);
  CHECK(fading_weight(speed_series(fast).receiver.smoothing) > 0.5);
  Log slow = fast;
  slow.fixes.clear();
  for (std::size_t i = 0; i < fast.fixes.size(); i += 5) {
    slow.fixes.push_back(fast.fixes[i]);
  }
  CHECK(fading_weight(speed_series(slow).receiver.smoothing) == 0.0);
}
