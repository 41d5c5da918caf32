#include "truth/cell.hpp"

#include "bothways/core/units.hpp"

#include <cmath>
#include <utility>

namespace bothways::truth {

namespace {

using sim::ReceiverModel;

template <class Change>
ReceiverModel changed(ReceiverModel model, const Change& change) {
  change(model);
  return model;
}

ReceiverModel positions(double rate_hz, double white_sd_m, double smooth_s) {
  return changed(sim::logger(rate_hz, 0.05), [=](ReceiverModel& m) {
    m.with_speed = false;
    m.position_white_sd_m = white_sd_m;
    m.position_smooth_s = smooth_s;
  });
}

void add_vehicles(std::vector<Cell>& all) {
  for (const char* vehicle : {"scooter", "motorcycle", "electric", "car"}) {
    const std::string name(vehicle);
    const auto add = [&](const char* cell, const char* words, const ReceiverModel& model, bool in_short) {
      all.push_back({name + "-" + cell, name, name + ", " + words, model, in_short});
    };
    add("1hz-phone", "1 Hz phone, noise 0.3 m/s, lag, zero held too long", sim::phone(1.0), false);
    add("1hz-logger", "1 Hz logger, noise 0.05 m/s", sim::logger(1.0, 0.05), false);
    add("5hz-average", "5 Hz logger, noise 0.12 m/s", sim::logger(5.0, 0.12), false);
    add("10hz-good", "10 Hz logger, noise 0.05 m/s", sim::logger(10.0, 0.05), true);
    add("25hz-good", "25 Hz logger, noise 0.05 m/s", sim::logger(25.0, 0.05), false);
  }
}

/// The scooter seen through a receiver that differs from a good logger in one habit.
class Habits {
 public:
  explicit Habits(std::vector<Cell>& all) : all_(all) {}

  template <class Change>
  void add(double rate_hz, const char* name, const char* words, const Change& change) {
    const std::string rate = std::to_string(static_cast<int>(rate_hz));
    all_.push_back({"scooter-" + rate + "hz-" + name, "scooter", "scooter, " + rate + " Hz logger, " + words,
                    changed(sim::logger(rate_hz, 0.05), change)});
  }

 private:
  std::vector<Cell>& all_;
};

void add_rates_and_noise(std::vector<Cell>& all) {
  const auto noise = [&](double rate_hz, const char* name, const char* words, double sd_mps) {
    Habits(all).add(rate_hz, name, words, [=](ReceiverModel& m) { m = sim::logger(rate_hz, sd_mps); });
  };
  noise(2.0, "fair", "noise 0.1 m/s", 0.1);
  noise(18.0, "good", "noise 0.05 m/s", 0.05);
  noise(10.0, "quiet", "noise 0.03 m/s", 0.03);
  noise(10.0, "average", "noise 0.12 m/s", 0.12);
  noise(10.0, "noisy", "noise 0.3 m/s", 0.3);
  Habits habits(all);
  habits.add(10.0, "white", "white noise only, 0.05 m/s", [](ReceiverModel& m) {
    m.white_sd_mps = 0.05;
    m.slow_sd_mps = 0.0;
  });
  habits.add(10.0, "slow", "noise nearly all slow, 0.05 m/s", [](ReceiverModel& m) {
    m.white_sd_mps = 0.01;
    m.slow_sd_mps = 0.05;
  });
  habits.add(10.0, "slow1s", "slow noise of 1 s", [](ReceiverModel& m) { m.slow_time_s = 1.0; });
  habits.add(10.0, "slow20s", "slow noise of 20 s", [](ReceiverModel& m) { m.slow_time_s = 20.0; });
  habits.add(10.0, "folded", "noise along the road only",
             [](ReceiverModel& m) { m.noise = sim::SpeedNoise::folded; });
}

void add_habits(std::vector<Cell>& all) {
  Habits habits(all);
  habits.add(10.0, "lag015", "smoothing 0.15 s", [](ReceiverModel& m) { m.lag_s = 0.15; });
  habits.add(10.0, "lag03", "smoothing 0.3 s", [](ReceiverModel& m) { m.lag_s = 0.3; });
  habits.add(10.0, "delay015", "speed late by 0.15 s", [](ReceiverModel& m) { m.delay_s = 0.15; });
  habits.add(10.0, "hold03", "zero below 0.3 m/s", [](ReceiverModel& m) { m.zero_hold_mps = 0.3; });
  habits.add(10.0, "hold08", "zero below 0.8 m/s", [](ReceiverModel& m) { m.zero_hold_mps = 0.8; });
  habits.add(10.0, "res001kn", "speed in 0.01 kn",
             [](ReceiverModel& m) { m.resolution_mps = 0.01 * mps_per_knot; });
  habits.add(10.0, "res01kn", "speed in 0.1 kn",
             [](ReceiverModel& m) { m.resolution_mps = 0.1 * mps_per_knot; });
  habits.add(10.0, "res001mps", "speed in 0.01 m/s", [](ReceiverModel& m) { m.resolution_mps = 0.01; });
  habits.add(10.0, "jitter", "time stamps off by 10 ms", [](ReceiverModel& m) { m.time_jitter_s = 0.01; });
  for (const double rate_hz : {5.0, 10.0}) {
    habits.add(rate_hz, "dropouts", "three silences a minute of up to 1 s", [](ReceiverModel& m) {
      m.dropouts_per_min = 3.0;
      m.dropout_s = 1.0;
    });
    habits.add(rate_hz, "spikes", "six wild readings a minute",
               [](ReceiverModel& m) { m.spikes_per_min = 6.0; });
  }
  habits.add(10.0, "jammed", "jammed at rest twice a minute: 247 km/h and elsewhere",
             [](ReceiverModel& m) { m.jams_per_min = 2.0; });
  for (const double rate_hz : {1.0, 5.0}) {
    habits.add(rate_hz, "whole-seconds", "times in whole seconds",
               [](ReceiverModel& m) { m.whole_second_stamps = true; });
  }
  all.push_back({"scooter-1hz-phone-overshoot", "scooter",
                 "scooter, 1 Hz phone that reads hard launches up to 0.4 m/s too fast",
                 changed(sim::phone(1.0), [](ReceiverModel& m) { m.overshoot_mps = 0.4; })});
  all.push_back({"scooter-10hz-phone", "scooter", "scooter, a phone's habits at 10 Hz", sim::phone(10.0)});
}

void add_positions(std::vector<Cell>& all) {
  const auto add = [&](double rate_hz, const char* name, const char* words, const ReceiverModel& model) {
    const std::string rate = std::to_string(static_cast<int>(rate_hz));
    all.push_back({"scooter-" + rate + "hz-" + name, "scooter",
                   "scooter, " + rate + " Hz, positions only, " + words, model});
  };
  for (const double rate_hz : {1.0, 5.0, 10.0}) {
    add(rate_hz, "positions", "drift 1.5 m", positions(rate_hz, 0.02, 0.0));
    add(rate_hz, "positions-smooth", "drift 1.5 m, filtered by the receiver", positions(rate_hz, 0.01, 0.5));
  }
  add(1.0, "positions-6dec", "six decimals",
      changed(positions(1.0, 0.05, 0.5), [](ReceiverModel& m) { m.coordinate_decimals = 6; }));
}

void add_roads(std::vector<Cell>& all) {
  const std::string logger = ", 10 Hz logger, noise 0.05 m/s";
  all.push_back({"scooter-10hz-slope2", "slope2", "scooter on 2 % slope" + logger, sim::logger(10.0, 0.05)});
  all.push_back(
      {"scooter-10hz-wind3", "wind3", "scooter in 3 m/s of wind" + logger, sim::logger(10.0, 0.05)});
  all.push_back(
      {"scooter-10hz-gusts", "gusts", "scooter, 1 % slope, gusts" + logger, sim::logger(10.0, 0.05)});
  all.push_back(
      {"scooter-10hz-dip", "dip", "scooter through a dip, 1 % in 100 m" + logger, sim::logger(10.0, 0.05)});
  all.push_back({"motorcycle-10hz-slope2", "slope2-motorcycle", "motorcycle on 2 % slope" + logger,
                 sim::logger(10.0, 0.05)});
  all.push_back({"scooter-5hz-slope2", "slope2", "scooter on 2 % slope, 5 Hz logger, noise 0.12 m/s",
                 sim::logger(5.0, 0.12)});
}

/// Real starts in town, from ../shared/data/profiles where that is.
void add_profiles(std::vector<Cell>& all) {
  for (const auto& [place, town] : {std::pair{"kingston", "Kingston"}, {"toronto", "Toronto"}}) {
    const std::string name(place);
    const std::string car = std::string("a car in ") + town + ", ";
    const auto add = [&](const char* cell, const char* words, const ReceiverModel& model) {
      all.push_back({name + "-" + cell, name, car + words, model});
    };
    add("1hz-phone", "1 Hz phone, noise 0.3 m/s, lag, zero held too long", sim::phone(1.0));
    add("1hz-logger", "1 Hz logger, noise 0.05 m/s", sim::logger(1.0, 0.05));
    add("5hz-average", "5 Hz logger, noise 0.12 m/s", sim::logger(5.0, 0.12));
    add("10hz-good", "10 Hz logger, noise 0.05 m/s", sim::logger(10.0, 0.05));
  }
}

}  // namespace

std::vector<Cell> cells() {
  std::vector<Cell> all;
  add_vehicles(all);
  add_rates_and_noise(all);
  add_habits(all);
  add_positions(all);
  add_roads(all);
  add_profiles(all);
  return all;
}

}  // namespace bothways::truth
