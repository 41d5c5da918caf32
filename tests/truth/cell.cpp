#include "truth/cell.hpp"

#include "bothways/core/units.hpp"

#include <cmath>
#include <utility>

namespace bothways::truth {

namespace {

/// Noise of this sd, half of its variance white and half slowly correlated.
sim::ReceiverModel receiver(double rate_hz, double noise_mps) {
  sim::ReceiverModel model;
  model.rate_hz = rate_hz;
  model.white_sd_mps = noise_mps / std::sqrt(2.0);
  model.slow_sd_mps = model.white_sd_mps;
  return model;
}

sim::ReceiverModel good() {
  return receiver(10.0, 0.05);
}

template <class Change>
sim::ReceiverModel changed(sim::ReceiverModel model, const Change& change) {
  change(model);
  return model;
}

sim::ReceiverModel phone(double rate_hz) {
  return changed(receiver(rate_hz, 0.3), [](sim::ReceiverModel& m) {
    m.lag_s = 0.3;
    m.zero_hold_mps = 0.5;
    m.stuck_below_mps = 2.0;
    m.stuck_probability = 0.4;
    m.resolution_mps = 0.01;
    m.coordinate_decimals = 6;
    m.position_white_sd_m = 0.3;
    m.position_drift_sd_m = 2.5;
  });
}

sim::ReceiverModel positions(double rate_hz, double white_sd_m) {
  return changed(receiver(rate_hz, 0.05), [=](sim::ReceiverModel& m) {
    m.with_speed = false;
    m.position_white_sd_m = white_sd_m;
  });
}

void add_vehicles(std::vector<Cell>& all) {
  for (const char* vehicle : {"scooter", "motorcycle", "electric", "car"}) {
    const std::string name(vehicle);
    all.push_back({name + "-1hz-phone", name, phone(1.0)});
    all.push_back({name + "-1hz-logger", name, receiver(1.0, 0.05)});
    all.push_back({name + "-5hz-average", name, receiver(5.0, 0.12)});
    all.push_back({name + "-10hz-good", name, good(), true});
    all.push_back({name + "-25hz-good", name, receiver(25.0, 0.05)});
  }
}

void add_rates_and_noise(std::vector<Cell>& all) {
  const std::string v = "scooter";
  all.push_back({"scooter-2hz", v, receiver(2.0, 0.1)});
  all.push_back({"scooter-18hz-good", v, receiver(18.0, 0.05)});
  all.push_back({"scooter-10hz-quiet", v, receiver(10.0, 0.03)});
  all.push_back({"scooter-10hz-average", v, receiver(10.0, 0.12)});
  all.push_back({"scooter-10hz-noisy", v, receiver(10.0, 0.3)});
  all.push_back({"scooter-10hz-white", v, changed(good(), [](auto& m) {
                   m.white_sd_mps = 0.05;
                   m.slow_sd_mps = 0.0;
                 })});
  all.push_back({"scooter-10hz-slow", v, changed(good(), [](auto& m) {
                   m.white_sd_mps = 0.01;
                   m.slow_sd_mps = 0.05;
                 })});
  all.push_back({"scooter-10hz-slow1s", v, changed(good(), [](auto& m) { m.slow_time_s = 1.0; })});
  all.push_back({"scooter-10hz-slow20s", v, changed(good(), [](auto& m) { m.slow_time_s = 20.0; })});
  all.push_back(
      {"scooter-10hz-folded", v, changed(good(), [](auto& m) { m.noise = sim::SpeedNoise::folded; })});
}

void add_habits(std::vector<Cell>& all) {
  const std::string v = "scooter";
  const auto add = [&](const char* name, auto change) {
    all.push_back({std::string("scooter-") + name, v, changed(good(), change)});
  };
  add("10hz-lag015", [](auto& m) { m.lag_s = 0.15; });
  add("10hz-lag03", [](auto& m) { m.lag_s = 0.3; });
  add("10hz-delay015", [](auto& m) { m.delay_s = 0.15; });
  add("10hz-hold03", [](auto& m) { m.zero_hold_mps = 0.3; });
  add("10hz-hold08", [](auto& m) { m.zero_hold_mps = 0.8; });
  add("10hz-res001kn", [](auto& m) { m.resolution_mps = 0.01 * mps_per_knot; });
  add("10hz-res01kn", [](auto& m) { m.resolution_mps = 0.1 * mps_per_knot; });
  add("10hz-res001mps", [](auto& m) { m.resolution_mps = 0.01; });
  add("10hz-jitter", [](auto& m) { m.time_jitter_s = 0.01; });
  add("10hz-dropouts", [](auto& m) {
    m.dropouts_per_min = 3.0;
    m.dropout_s = 1.0;
  });
  add("10hz-spikes", [](auto& m) { m.spikes_per_min = 6.0; });
  add("5hz-spikes", [](auto& m) {
    m.rate_hz = 5.0;
    m.spikes_per_min = 6.0;
  });
  add("5hz-dropouts", [](auto& m) {
    m.rate_hz = 5.0;
    m.dropouts_per_min = 3.0;
    m.dropout_s = 1.0;
  });
  add("1hz-whole-seconds", [](auto& m) {
    m.rate_hz = 1.0;
    m.whole_second_stamps = true;
  });
  all.push_back({"scooter-10hz-phone", v, phone(10.0)});
}

void add_positions(std::vector<Cell>& all) {
  const std::string v = "scooter";
  all.push_back({"scooter-1hz-positions", v, positions(1.0, 0.05)});
  all.push_back({"scooter-5hz-positions", v, positions(5.0, 0.02)});
  all.push_back({"scooter-10hz-positions", v, positions(10.0, 0.01)});
  all.push_back({"scooter-1hz-positions-6dec", v,
                 changed(positions(1.0, 0.05), [](auto& m) { m.coordinate_decimals = 6; })});
}

}  // namespace

std::vector<Cell> cells() {
  std::vector<Cell> all;
  add_vehicles(all);
  add_rates_and_noise(all);
  add_habits(all);
  add_positions(all);
  for (const char* road : {"slope2", "wind3", "gusts"}) {
    all.push_back({std::string("scooter-10hz-") + road, road, good()});
  }
  return all;
}

}  // namespace bothways::truth
