#include "truth/population/habits.hpp"

#include "bothways/core/units.hpp"

#include <fmt/format.h>

namespace bothways::population {

namespace {

using Law = DeviceSmoothing::Law;

Habit smoothing(const char* name, Law law, double delay_s, bool positions_too = true) {
  return {name,
          [=](Device& d) {
            d.smoothing = {law, delay_s};
            d.positions_smoothed = positions_too;
          },
          !positions_too};
}

Habit correlated(const char* name, double share, double time_s) {
  return {name,
          [=](Device& d) {
            d.slow_share = share;
            d.slow_time_s = time_s;
          },
          true};
}

std::vector<Habit> made() {
  std::vector<Habit> all;
  all.push_back({"none", [](Device&) {}});
  all.push_back({"noise at rest 1/10", [](Device& d) { d.rest_ratio = 0.1; }, true});
  all.push_back({"noise at rest 1/50", [](Device& d) { d.rest_ratio = 0.02; }, true});
  all.push_back({"noise grows 2.5 times", [](Device& d) { d.growth = 2.5; }, true});
  for (const double beyond : {0.03, 0.09}) {
    all.push_back({fmt::format("{:.0f} % wild, bursts 0.5 s", 100.0 * beyond),
                   [=](Device& d) {
                     d.wild_share = beyond / 0.66;
                     d.burst_s = std::max(0.5, 1.0 / d.rate_hz);
                   },
                   true});
  }
  all.push_back(correlated("correlation 0.5, 5 s", 0.61, 5.0));
  all.push_back(correlated("correlation 0.9, 20 s", 0.95, 20.0));
  all.push_back(correlated("noise of 0.5 s", 1.0, 0.5));
  all.push_back(smoothing("first order 0.1 s", Law::first, 0.1));
  all.push_back(smoothing("first order 0.3 s", Law::first, 0.3));
  all.push_back(smoothing("second order 0.3 s", Law::second, 0.3));
  all.push_back(smoothing("boxcar 0.3 s", Law::boxcar, 0.3));
  all.push_back(smoothing("first order 0.3 s, positions not", Law::first, 0.3, false));
  all.push_back({"first order 0.2 s, noise before it",
                 [](Device& d) {
                   d.smoothing = {Law::first, 0.2};
                   d.before_share = 1.0;
                 },
                 true});
  all.push_back({"speeds 0.2 s behind positions", [](Device& d) { d.speed_delay_s = 0.2; }, true});
  all.push_back({"stamps 0.5 s early", [](Device& d) { d.stamp_delay_s = -0.5; }});
  for (const double hold_mps : {0.3, 0.8}) {
    all.push_back({fmt::format("held below {:.1f} m/s, frozen", hold_mps), [=](Device& d) {
                     d.hold_mps = hold_mps;
                     d.hold_entry_mps = 0.6 * hold_mps;
                     d.freezes = true;
                     d.catch_up_s = 2.5;
                   }});
  }
  all.push_back({"wanders by 0.5 m/s", [](Device& d) { d.wander_sd_mps = 0.5; }});
  all.push_back({"thrown by launches, 0.5 m/s", [](Device& d) { d.kick_mean_mps = 0.5; }});
  all.push_back({"positions 0.2 m", [](Device& d) { d.position_sd_m = 0.2; }});
  all.push_back({"jitter 10 ms", [](Device& d) { d.jitter_s = 0.01; }});
  all.push_back({"whole seconds, jitter 30 ms", [](Device& d) {
                   d.whole_seconds = true;
                   d.jitter_s = 0.03;
                 }});
  all.push_back({"0.1 kn, 1e-6 degrees", [](Device& d) {
                   d.speed_step_mps = 0.1 * mps_per_knot;
                   d.degree_step = 1e-6;
                 }});
  return all;
}

}  // namespace

const std::vector<Habit>& habits() {
  static const std::vector<Habit> all = made();
  return all;
}

Device plain_device(Kind kind) {
  Device device;
  device.kind = kind;
  const bool is_phone = kind == Kind::phone || kind == Kind::phone_positions;
  device.rate_hz = is_phone ? 1.0 : kind == Kind::logger ? 10.0 : 5.0;
  device.phase_s = 0.37 / device.rate_hz;
  device.rest_ratio = 1.0;
  device.motion_sd_mps = is_phone ? 0.15 : 0.05;
  device.wander_sd_mps = is_phone ? 0.15 : 0.02;
  return device;
}

Table habits_table(Kind kind, const std::vector<std::vector<Judged>>& judged) {
  Table table{fmt::format("One habit at a time: {}", to_string(kind)), {"habit", "found %", "taken %"}, {}};
  for (const char* split : split_names) {
    table.head.insert(table.head.end(), {fmt::format("{}: held %", split), "bias", "median", "+-"});
  }
  for (std::size_t i = 0; i < judged.size(); ++i) {
    if (judged[i].empty()) {
      continue;
    }
    const auto found =
        share_of(judged[i], [](const Judged& r) { return std::pair(r.found_runs, r.true_runs); });
    const auto taken = share_of(judged[i], taken_of_others);
    table.rows.push_back({habits()[i].name, fmt::format("{:.1f}", 100.0 * found.value),
                          fmt::format("{:.1f}", 100.0 * taken.value)});
    for (int split = 0; split < splits_asked; ++split) {
      const Summary s = summary_of(judged[i], [&](const Judged&, const Figure& figure) {
        return figure.level == Level::run && figure.split == split;
      });
      auto& row = table.rows.back();
      row.insert(row.end(), {fmt::format("{:.1f}", 100.0 * s.held.value), fmt::format("{:+.3f}", s.bias),
                             fmt::format("{:.3f}", s.median), fmt::format("{:.3f}", s.half_width)});
    }
  }
  return table;
}

}  // namespace bothways::population
