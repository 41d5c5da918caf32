#include "support/simulate/receiver.hpp"

#include "bothways/core/units.hpp"
#include "support/simulate/ride.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <vector>

using namespace bothways;
using namespace bothways::sim;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Truth standing(double seconds) {
  return ride(plain_scooter(), {}, {stand(seconds)});
}

Truth one_run() {
  return ride(scooter(), {}, one_way(Speed::from_mph(52).mps(), 280.0, 20.0));
}

ReceiverModel perfect() {
  ReceiverModel model;
  model.white_sd_mps = 0.0;
  model.slow_sd_mps = 0.0;
  model.position_white_sd_m = 0.0;
  model.position_drift_sd_m = 0.0;
  model.height_sd_m = 0.0;
  model.coordinate_decimals = 12;
  return model;
}

double mean_square(const std::vector<double>& x) {
  double sum = 0.0;
  for (const double value : x) {
    sum += value * value;
  }
  return sum / static_cast<double>(x.size());
}

}  // namespace

TEST_CASE("a perfect receiver logs the truth", "[simulate]") {
  const Truth truth = one_run();
  const Log log = receive(truth, perfect(), 1);
  const Instant begin = log.fixes.front().time;
  const LocalPlane plane(truth.road.origin);
  TruthReader reader(truth);
  for (const Fix& fix : log.fixes) {
    const TruthRow row = reader.at(seconds_between(begin, fix.time));
    REQUIRE_THAT(fix.speed_mps, WithinAbs(row.v_mps, 1e-9));
    const PlanePoint point = plane.to_plane({fix.lat_deg, fix.lon_deg});
    REQUIRE_THAT(std::hypot(point.east_m, point.north_m), WithinAbs(std::hypot(row.x_m, row.y_m), 1e-5));
  }
}

TEST_CASE("noise has the asked size and correlation", "[simulate]") {
  // Folded white and slow noise at rest: E z^2 = sum of the variances. 40000 s: the slow part has about
  // 4000 independent values, so the mean square is good to 3 %.
  ReceiverModel model = perfect();
  model.rate_hz = 1.0;
  model.noise = SpeedNoise::folded;
  model.white_sd_mps = 0.03;
  model.slow_sd_mps = 0.06;
  const Log log = receive(standing(40'000.0), model, 5);
  std::vector<double> z;
  std::vector<double> near;
  for (const Fix& fix : log.fixes) {
    z.push_back(fix.speed_mps);
  }
  CHECK_THAT(mean_square(z), WithinRel(0.03 * 0.03 + 0.06 * 0.06, 0.08));

  Random random(11);
  SlowNoise slow(0.06, 5.0, random);
  double product = 0.0;
  double square = 0.0;
  double last = slow.value();
  constexpr int n = 100'000;
  for (int i = 0; i < n; ++i) {
    const double value = slow.step(1.0, random);
    product += value * last;
    square += value * value;
    last = value;
  }
  CHECK_THAT(std::sqrt(square / n), WithinRel(0.06, 0.03));
  CHECK_THAT(product / square, WithinAbs(std::exp(-0.2), 0.02));
}

TEST_CASE("speed noise of two components lifts the reading at rest", "[simulate]") {
  ReceiverModel model = perfect();
  model.rate_hz = 1.0;
  model.white_sd_mps = 0.1;
  const Log log = receive(standing(40'000.0), model, 6);
  double sum = 0.0;
  for (const Fix& fix : log.fixes) {
    sum += fix.speed_mps;
  }
  // mean of a Rayleigh distribution: sd sqrt(pi / 2)
  CHECK_THAT(sum / static_cast<double>(log.fixes.size()), WithinRel(0.1 * std::sqrt(1.5707963), 0.01));
}

TEST_CASE("a smoothing receiver shows a steady acceleration late by its time constant", "[simulate]") {
  const Truth truth = ride(plain_scooter(), {}, {stand(10.0), full_start(Speed::from_mph(30).mps())});
  ReceiverModel model = perfect();
  model.lag_s = 0.2;
  const Log log = receive(truth, model, 1);
  const Instant begin = log.fixes.front().time;
  TruthReader reader(truth);
  for (const Fix& fix : log.fixes) {
    const double t_s = seconds_between(begin, fix.time);
    if (t_s > 12.0 && t_s < 13.5) {
      CHECK_THAT(fix.speed_mps, WithinAbs(reader.at(t_s - 0.2).v_mps, 0.005));
    }
  }
}

TEST_CASE("a receiver holds zero, rounds, and drops fixes as asked", "[simulate]") {
  const Truth truth = one_run();
  ReceiverModel model = perfect();
  model.zero_hold_mps = 0.5;
  model.resolution_mps = 0.1;
  model.dropouts_per_min = 6.0;
  const Log log = receive(truth, model, 2);
  double longest_s = 0.0;
  for (std::size_t i = 0; i < log.fixes.size(); ++i) {
    const double v = log.fixes[i].speed_mps;
    CHECK((v == 0.0 || v >= 0.5));
    CHECK_THAT(v, WithinAbs(0.1 * std::round(v / 0.1), 1e-12));
    if (i > 0) {
      longest_s = std::max(longest_s, seconds_between(log.fixes[i - 1].time, log.fixes[i].time));
    }
  }
  CHECK(longest_s > 0.8);
  CHECK(longest_s < 6.5);
}

TEST_CASE("a phone stays at zero while it already moves, then jumps", "[simulate]") {
  ReceiverModel model = perfect();
  model.rate_hz = 10.0;
  model.stuck_below_mps = 2.0;
  model.stuck_probability = 1.0;
  const Log log = receive(one_run(), model, 2);
  double first_mps = 0.0;
  for (const Fix& fix : log.fixes) {
    if (fix.speed_mps > 0.0) {
      first_mps = fix.speed_mps;
      break;
    }
  }
  CHECK(first_mps >= 2.0);
  CHECK(first_mps < 2.4);
}

TEST_CASE("a jammed receiver is wild at rest only", "[simulate]") {
  ReceiverModel model = perfect();
  model.jams_per_min = 20.0;
  const Truth truth = one_run();
  const Log log = receive(truth, model, 2);
  const Instant begin = log.fixes.front().time;
  TruthReader reader(truth);
  std::size_t wild = 0;
  for (const Fix& fix : log.fixes) {
    if (fix.speed_mps > 60.0) {
      ++wild;
      bool stood = false;  // it begins at rest and lasts 4 s at most
      for (int k = 0; k <= 40; ++k) {
        stood = stood || reader.at(seconds_between(begin, fix.time) - 0.1 * k).v_mps < 1e-9;
      }
      CHECK(stood);
    }
  }
  CHECK(wild > 10);
}

TEST_CASE("positions drift slowly and keep their decimals", "[simulate]") {
  ReceiverModel model = perfect();
  model.with_speed = false;
  model.position_drift_sd_m = 1.5;
  model.coordinate_decimals = 6;
  const Truth truth = standing(20'000.0);
  model.rate_hz = 1.0;
  const Log log = receive(truth, model, 8);
  const LocalPlane plane(truth.road.origin);
  double square = 0.0;
  for (const Fix& fix : log.fixes) {
    CHECK(!is_known(fix.speed_mps));
    CHECK_THAT(fix.lat_deg * 1e6, WithinAbs(std::round(fix.lat_deg * 1e6), 1e-4));
    const PlanePoint point = plane.to_plane({fix.lat_deg, fix.lon_deg});
    square += 0.5 * (point.east_m * point.east_m + point.north_m * point.north_m);
  }
  // two axes, 20000 s at 60 s: about 330 independent values
  CHECK_THAT(std::sqrt(square / static_cast<double>(log.fixes.size())), WithinRel(1.5, 0.15));
}

TEST_CASE("the same seed gives the same log", "[simulate]") {
  const Truth truth = one_run();
  const Log one = receive(truth, {}, 3);
  const Log same = receive(truth, {}, 3);
  const Log other = receive(truth, {}, 4);
  REQUIRE(one.fixes.size() == same.fixes.size());
  bool equal = true;
  bool differs = false;
  for (std::size_t i = 0; i < one.fixes.size(); ++i) {
    equal = equal && one.fixes[i].speed_mps == same.fixes[i].speed_mps &&
            one.fixes[i].lat_deg == same.fixes[i].lat_deg && one.fixes[i].time == same.fixes[i].time;
    differs = differs || one.fixes[i].speed_mps != other.fixes[i].speed_mps;
  }
  CHECK(equal);
  CHECK(differs);
}
