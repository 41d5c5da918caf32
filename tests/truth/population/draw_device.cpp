#include "bothways/core/units.hpp"
#include "truth/population/draw.hpp"
#include "truth/population/ranges.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace bothways::population {

namespace {

template <std::size_t n>
double one_of(sim::Random& random, const std::array<double, n>& values) {
  return values[static_cast<std::size_t>(random.integer(0, static_cast<int>(n) - 1))];
}

double rate_of(Kind kind, sim::Random& random) {
  switch (kind) {
    case Kind::logger:
      return one_of<5>(random, {10.0, 10.0, 18.0, 20.0, 25.0});
    case Kind::slow_logger:
      return 5.0;
    case Kind::logger_positions:
      return one_of<4>(random, {1.0, 2.0, 5.0, 10.0});
    case Kind::phone:
    case Kind::phone_positions:
      break;
  }
  return 1.0;
}

bool is_phone(Kind kind) {
  return kind == Kind::phone || kind == Kind::phone_positions;
}

void draw_noise(Device& d, sim::Random& random) {
  d.motion_sd_mps = log_even(random, is_phone(d.kind)              ? range::phone_noise_mps
                                     : d.kind == Kind::slow_logger ? range::slow_logger_noise_mps
                                                                   : range::logger_noise_mps);
  d.rest_ratio = log_even(random, range::rest_ratio);
  d.rest_speed_mps = log_even(random, range::rest_speed_mps);
  d.growth = even(random, range::growth);
  // The correlation at a second is slow_share exp(-1 s / slow_time_s): one of the two is free.
  const double correlation = std::max(0.01, even(random, range::correlation));
  d.slow_share = std::max(correlation * 1.02, random.uniform(correlation, 1.0));
  d.slow_time_s = 1.0 / std::log(d.slow_share / correlation);
  d.before_share = even(random, range::before_filter);
  d.wild_share = even(random, range::tails) / range::tail_beyond;
  d.wild_scale = even(random, range::tail_scale);
  d.burst_s = std::max(1.0 / d.rate_hz, log_even(random, range::burst_s));
  d.two_axes = chance(random, 0.8);
}

void draw_smoothing(Device& d, sim::Random& random) {
  d.smoothing.law = static_cast<DeviceSmoothing::Law>(random.integer(0, 2));
  const double delay_s = even(random, range::smoothing_s);
  d.smoothing.delay_s = chance(random, range::no_smoothing) ? 0.0 : delay_s;
  d.positions_smoothed = !chance(random, range::speed_alone) || !d.with_speed();
  d.stamp_delay_s = even(random, range::stamp_delay_s);
  const double behind_s = even(random, range::speed_delay_s);
  d.speed_delay_s = chance(random, range::no_speed_delay) ? 0.0 : behind_s;
}

void draw_hold(Device& d, sim::Random& random) {
  const bool holds = chance(random, is_phone(d.kind) ? range::phone_holds : range::logger_holds);
  const double hold_mps = even(random, range::hold_mps);
  d.hold_entry_mps = hold_mps * even(random, range::hold_entry);
  d.hold_settle_s = even(random, range::hold_settle_s);
  d.freezes = chance(random, is_phone(d.kind) ? range::phone_freezes : range::logger_freezes);
  d.catch_up_s = even(random, range::catch_up_s);
  d.hold_mps = holds ? hold_mps : 0.0;
}

void draw_positions(Device& d, sim::Random& random) {
  const double quiet_m =
      log_even(random, is_phone(d.kind) ? range::phone_position_m : range::logger_position_m);
  const double raw_m = log_even(random, range::raw_position_m);
  d.position_sd_m = !is_phone(d.kind) && chance(random, range::raw_positions) ? raw_m : quiet_m;
  d.wander_sd_mps = log_even(random, is_phone(d.kind) ? range::phone_wander_mps : range::logger_wander_mps);
  d.wander_time_s = even(random, range::wander_time_s);
  const double kick = range::phone_kick_mps * random.normal();
  d.kick_mean_mps = is_phone(d.kind) ? kick : 0.0;
  d.kick_sd_mps = d.wander_sd_mps * even(random, range::kick_ratio);
}

/// Steps of the written figures: NMEA (minutes of 4 to 7 decimals, knots of 1 to 3) and GPX or CSV.
void draw_writing(Device& d, sim::Random& random) {
  const double minute = 1.0 / 60.0;
  d.degree_step =
      is_phone(d.kind)
          ? one_of<6>(random, {1e-5, 1e-6, 1e-6, 1e-7, 1e-7, 1e-5 * minute})
          : one_of<6>(random, {1e-4 * minute, 1e-5 * minute, 1e-5 * minute, 1e-7 * minute, 1e-6, 1e-7});
  d.speed_step_mps =
      one_of<9>(random, {0.1 * mps_per_knot, 0.01 * mps_per_knot, 0.01 * mps_per_knot, 0.001 * mps_per_knot,
                         0.1 * mps_per_kmh, 0.01 * mps_per_kmh, 0.1, 0.01, 0.0});
  const double jitter_s = log_even(random, is_phone(d.kind) ? range::phone_jitter_s : range::logger_jitter_s);
  d.jitter_s = chance(random, range::no_jitter) ? 0.0 : jitter_s;
  d.whole_seconds = is_phone(d.kind) && chance(random, range::whole_seconds);
  const double factor = log_even(random, range::accuracy_factor);
  d.accuracy_factor = is_phone(d.kind) && chance(random, range::gives_accuracy) ? factor : 0.0;
}

}  // namespace

Device draw_device(Kind kind, sim::Random& random) {
  Device device;
  device.kind = kind;
  device.rate_hz = rate_of(kind, random);
  device.phase_s = random.uniform() / device.rate_hz;
  draw_noise(device, random);
  draw_smoothing(device, random);
  draw_hold(device, random);
  draw_positions(device, random);
  draw_writing(device, random);
  return device;
}

}  // namespace bothways::population
