#include "truth/population/figure.hpp"

#include "truth/population/ranges.hpp"

#include <algorithm>
#include <cmath>

namespace bothways::population {

const char* to_string(Level level) {
  switch (level) {
    case Level::run:
      return "run";
    case Level::movement:
      return "movement";
    case Level::pair:
      return "pair";
    case Level::result:
      return "result";
    case Level::side:
      return "side";
    case Level::wind:
      return "wind";
    case Level::difference:
      return "difference";
  }
  return "";
}

const char* to_string(Days days) {
  switch (days) {
    case Days::blocks:
      return "one day, in blocks";
    case Days::turns:
      return "one day, in turns";
    case Days::two_days:
      return "two days";
  }
  return "";
}

Traits traits_of(const Device& device, const Machine& machine, const sim::Road& road,
                 const Weather& weather) {
  Traits traits{.kind = device.kind, .machine = machine.name, .launch = machine.launch};
  auto& value = traits.value;
  value["rate_hz"] = device.rate_hz;
  value["noise_mps"] = device.motion_sd_mps;
  value["rest_ratio"] = device.rest_ratio;
  value["growth"] = device.growth;
  value["correlation"] = device.slow_share * std::exp(-1.0 / device.slow_time_s);
  value["slow_share"] = device.slow_share;
  value["slow_time_s"] = device.slow_time_s;
  value["before_filter"] = device.smoothing.delay_s > 0.0 ? device.before_share : 0.0;
  value["tails"] = range::tail_beyond * device.wild_share;
  value["burst_s"] = device.burst_s;
  value["two_axes"] = device.two_axes ? 1.0 : 0.0;
  value["smoothing_s"] = device.smoothing.delay_s;
  value["law"] = static_cast<double>(device.smoothing.law);
  value["shared"] = device.positions_smoothed && device.smoothing.delay_s > 0.0 ? 1.0 : 0.0;
  value["stamp_delay_s"] = device.stamp_delay_s;
  value["speed_delay_s"] = device.speed_delay_s;
  value["hold_mps"] = device.hold_mps;
  value["freezes"] = device.freezes && device.hold_mps > 0.0 ? 1.0 : 0.0;
  value["catch_up_s"] = device.catch_up_s;
  value["position_m"] = device.position_sd_m;
  value["wander_mps"] = device.wander_sd_mps;
  value["wander_time_s"] = device.wander_time_s;
  value["kick_mean_mps"] = device.kick_mean_mps;
  value["kick_sd_mps"] = device.kick_sd_mps;
  value["degree_step"] = device.degree_step;
  value["speed_step_mps"] = device.speed_step_mps;
  value["jitter_s"] = device.jitter_s;
  value["whole_seconds"] = device.whole_seconds ? 1.0 : 0.0;
  value["accuracy_factor"] = device.accuracy_factor;
  value["start_scatter"] = machine.scatter.force;
  value["launch_scatter"] = machine.scatter.launch;
  value["change_on_mark"] = machine.change_on_mark ? 1.0 : 0.0;
  value["slope"] = std::abs(road.slope);
  value["slope_sd"] = road.slopes.empty() ? 0.0
                                          : *std::max_element(road.slopes.begin(), road.slopes.end()) -
                                                *std::min_element(road.slopes.begin(), road.slopes.end());
  value["wind_mps"] = std::hypot(weather.wind_mps, weather.cross_mps);
  value["head_wind_mps"] = std::abs(weather.wind_mps);
  value["gust_mps"] = weather.gust_sd_mps;
  return traits;
}

}  // namespace bothways::population
