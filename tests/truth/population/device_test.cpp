#include "truth/population/device.hpp"

#include "support/simulate/ride.hpp"
#include "truth/population/draw.hpp"
#include "truth/population/errors.hpp"
#include "truth/population/habits.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

using namespace bothways;
using namespace bothways::population;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr Instant begin{1'777'887'000'000'000};

sim::Truth short_ride() {
  return sim::ride(sim::plain_scooter(), {},
                   {sim::stand(10.0), sim::full_start(20.0), sim::slow_to(0.0), sim::stand(10.0)});
}

Device quiet_device() {
  Device device = plain_device(Kind::logger);
  device.motion_sd_mps = 1e-9;
  device.wander_sd_mps = 1e-9;
  device.position_sd_m = 1e-9;
  device.degree_step = 0.0;
  return device;
}

DeviceSmoothing smoothing_of(int law, double delay_s) {
  return {static_cast<DeviceSmoothing::Law>(law), delay_s};
}

/// Noise along the road of many readings at a steady speed.
std::vector<double> noise_at(const Device& device, double v_mps) {
  sim::Random random(3);
  SpeedNoise noise(device, random);
  std::vector<double> readings;
  for (int i = 1; i <= 40000; ++i) {
    readings.push_back(noise.at(i / device.rate_hz, v_mps, 0.0, random)[0]);
  }
  return readings;
}

double sd_of(const std::vector<double>& x) {
  double square = 0.0;
  for (const double one : x) {
    square += one * one;
  }
  return std::sqrt(square / static_cast<double>(x.size()));
}

double correlation_of(const std::vector<double>& x, std::size_t apart) {
  double product = 0.0;
  for (std::size_t i = 0; i + apart < x.size(); ++i) {
    product += x[i] * x[i + apart];
  }
  return product / static_cast<double>(x.size() - apart) / (sd_of(x) * sd_of(x));
}

}  // namespace

TEST_CASE("a device without habits writes the truth", "[population]") {
  const sim::Truth truth = short_ride();
  const Log log = record(truth, quiet_device(), 1, begin);
  sim::TruthReader reader(truth);
  for (const Fix& fix : log.fixes) {
    const sim::TruthRow row = reader.at(seconds_between(begin, fix.time));
    // Stamps are cut to milliseconds: 3 m/s^2 in one of them.
    REQUIRE_THAT(fix.speed_mps, WithinAbs(row.v_mps, 0.003));
    const LatLon place = sim::place_of(LocalPlane(truth.road.origin), truth.road, row);
    REQUIRE(geodesic_between(place, {fix.lat_deg, fix.lon_deg}).distance_m < 0.021);
  }
}

TEST_CASE("every law of smoothing delays a ramp by what it says", "[population]") {
  for (const int law : {0, 1, 2}) {
    for (const double delay_s : {0.1, 0.3}) {
      Filter filter(smoothing_of(law, delay_s), 0.0);
      double out = 0.0;
      for (int i = 0; i <= 1000; ++i) {
        out = filter.step(i * filter_step_s);
      }
      CHECK_THAT(10.0 - out, WithinAbs(delay_s, filter_step_s));
    }
  }
}

TEST_CASE("the gain of a boxcar is that of a mean", "[population]") {
  CHECK_THAT(Filter::gain({DeviceSmoothing::Law::boxcar, 0.2}), WithinRel(1.0 / std::sqrt(40.0), 1e-9));
}

TEST_CASE("smoothed speeds and positions are late alike, and stamps later still", "[population]") {
  const sim::Truth truth = short_ride();
  for (const int law : {0, 1, 2}) {
    Device device = quiet_device();
    device.smoothing = smoothing_of(law, 0.2);
    device.stamp_delay_s = 0.3;
    const Log log = record(truth, device, 1, begin);
    // While the brakes work the vehicle slows evenly: a delay and nothing else.
    const auto slowing = std::find_if(log.fixes.begin(), log.fixes.end(), [&](const Fix& fix) {
      return seconds_between(begin, fix.time) > truth.starts[0].lift_s + 3.0;
    });
    sim::TruthReader reader(truth);
    const sim::TruthRow row = reader.at(seconds_between(begin, slowing->time) - device.late_s());
    CHECK_THAT(slowing->speed_mps, WithinAbs(row.v_mps, 0.03));  // 0.01 s of 2.5 m/s^2
  }
}

TEST_CASE("noise at rest, in motion and with acceleration is as the device says", "[population]") {
  Device device = plain_device(Kind::logger);
  device.rest_ratio = 0.1;
  device.growth = 2.5;
  CHECK_THAT(sd_of(noise_at(device, 0.0)), WithinRel(0.005, 0.03));
  CHECK_THAT(sd_of(noise_at(device, 20.0)), WithinRel(0.05, 0.03));
  CHECK_THAT(noise_sd_mps(device, 20.0, 10.0), WithinRel(0.125, 0.001));
}

TEST_CASE("as many readings are wild as the device says, and come in bursts", "[population]") {
  Device device = plain_device(Kind::logger);
  device.wild_share = 0.09 / 0.66;
  device.burst_s = 0.5;
  const std::vector<double> readings = noise_at(device, 20.0);
  const auto wild = [](double x) { return std::abs(x) > 4.0 * 0.05; };
  const double share = static_cast<double>(std::count_if(readings.begin(), readings.end(), wild)) / 40000.0;
  CHECK_THAT(share, WithinAbs(0.09, 0.01));  // some 1000 bursts
  int together = 0;
  for (std::size_t i = 0; i + 1 < readings.size(); ++i) {
    together += wild(readings[i]) && wild(readings[i + 1]) ? 1 : 0;
  }
  CHECK(together > 2 * 40000.0 * share * share);
}

TEST_CASE("errors a second apart correlate as the device says", "[population]") {
  Device device = plain_device(Kind::logger);
  device.slow_share = 0.8;
  device.slow_time_s = 2.0;
  // 40000 readings are 2000 correlation times.
  CHECK_THAT(correlation_of(noise_at(device, 20.0), 10), WithinAbs(0.8 * std::exp(-0.5), 0.06));
}

TEST_CASE("noise before the filter is coloured and as large as the other", "[population]") {
  Device device = plain_device(Kind::logger);
  device.smoothing = {DeviceSmoothing::Law::first, 0.2};
  device.before_share = 1.0;
  const std::vector<double> readings = noise_at(device, 20.0);
  CHECK_THAT(sd_of(readings), WithinRel(0.05, 0.03));
  CHECK_THAT(correlation_of(readings, 1), WithinAbs(std::exp(-0.5), 0.03));
}

TEST_CASE("positions stand still while held and have caught up soon after", "[population]") {
  const sim::Truth truth = short_ride();
  Device device = quiet_device();
  device.hold_mps = 1.0;
  device.hold_entry_mps = 0.5;
  device.freezes = true;
  device.catch_up_s = 2.0;
  device.position_sd_m = 0.05;
  const Log log = record(truth, device, 1, begin);
  const auto fix_at = [&](double t_s) {
    return log.fixes.at(static_cast<std::size_t>(std::lround((t_s - device.phase_s) * 10.0)));
  };
  CHECK(fix_at(2.0).lat_deg == fix_at(9.0).lat_deg);
  CHECK(fix_at(9.0).speed_mps == 0.0);
  sim::TruthReader reader(truth);
  const Fix later = fix_at(13.0);
  const LatLon place =
      sim::place_of(LocalPlane(truth.road.origin), truth.road, reader.at(seconds_between(begin, later.time)));
  CHECK(geodesic_between(place, {later.lat_deg, later.lon_deg}).distance_m <
        0.25);  // 0.05 m of noise an axis
}

TEST_CASE("wandering positions have the velocity that the device says", "[population]") {
  Device device = plain_device(Kind::phone_positions);
  device.wander_sd_mps = 0.5;
  device.wander_time_s = 2.0;
  sim::Random random(4);
  PositionError error(device, random);
  std::vector<double> steps;
  double last_m = 0.0;
  for (int i = 0; i < 20000; ++i) {
    error.step(1.0, 10.0, {1.0, 0.0}, random);
    steps.push_back(error.value_m()[1] - last_m);
    last_m = error.value_m()[1];
  }
  CHECK_THAT(sd_of(steps), WithinRel(0.5, 0.12));  // a second is half of the time constant; and the leak
}

TEST_CASE("a ride of the population hangs on its seed and number alone", "[population]") {
  const auto ride = [](std::uint64_t seed, std::uint64_t index) {
    sim::Random random(mixed(seed, index, 1));
    const Machine machine = draw_machine(random);
    return std::pair(machine.vehicle.pull_N, draw_device(Kind::phone, random).motion_sd_mps);
  };
  CHECK(ride(1, 7) == ride(1, 7));
  CHECK(ride(1, 7) != ride(1, 8));
  CHECK(ride(1, 7) != ride(2, 7));
}
