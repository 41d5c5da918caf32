#pragma once

#include "bothways/log/log.hpp"
#include "support/simulate/truth.hpp"

#include <cstdint>

namespace bothways::population {

/// What kind of log a rider brings.
enum class Kind {
  logger,           ///< speed and positions, from 10 Hz
  slow_logger,      ///< speed and positions, 5 Hz
  phone,            ///< speed and positions, 1 Hz
  phone_positions,  ///< positions only, 1 Hz, filtered by the phone
  logger_positions  ///< positions only, 1 to 10 Hz
};
inline constexpr int kinds = 5;

/// "10 Hz and more", "5 Hz", "phone", "phone, positions", "logger, positions".
[[nodiscard]] const char* to_string(Kind kind);

/// How a receiver smooths inside. delay_s: by how much the smoothing delays; 0: it does not smooth.
struct DeviceSmoothing {
  enum class Law {
    first,   ///< first order, time constant delay_s
    second,  ///< two of first order, each of half the delay
    boxcar   ///< mean over the last 2 delay_s
  };
  Law law = Law::first;
  double delay_s = 0.0;
};

/// The habits of one receiver. A model apart from that of tests/support/simulate/receiver.hpp, which the
/// cells use: made after what open logs show of receivers in motion. Ranges and reasons: ranges.hpp.
struct Device {
  Kind kind = Kind::logger;
  double rate_hz = 10.0;
  double phase_s = 0.0;  ///< time of the first fix

  // Noise of speed: sd (one axis) rises from rest to motion and with the acceleration; a part is slow, a part
  // enters before the filter; some readings are wild, in bursts.
  double motion_sd_mps = 0.05;
  double rest_ratio = 0.2;      ///< sd at rest over that in motion
  double rest_speed_mps = 1.0;  ///< speed at which it has come up to 63 %
  double growth = 1.0;          ///< of the sd at high acceleration
  double slow_share = 0.0;      ///< of the variance
  double slow_time_s = 1.0;     ///< its correlation time
  double before_share = 0.0;    ///< of the quick variance: coloured by the filter
  double wild_share = 0.0;      ///< of the readings
  double wild_scale = 9.0;      ///< their sd over the usual
  double burst_s = 1.0;         ///< mean time that they come together
  bool two_axes = true;         ///< a reading is the length of a vector; false: of its part along the road

  DeviceSmoothing smoothing;
  bool positions_smoothed = true;  ///< by the same filter
  double stamp_delay_s = 0.0;      ///< stamps are late by this; negative: early
  double speed_delay_s = 0.0;      ///< speeds further behind

  double hold_mps = 0.0;        ///< a hold ends above this; 0: there is none
  double hold_entry_mps = 0.0;  ///< it begins below this ...
  double hold_settle_s = 0.0;   ///< ... for this long
  bool freezes = false;         ///< positions stand still while held ...
  double catch_up_s = 2.0;      ///< ... and have caught up (to 1/12) this long after

  double position_sd_m = 0.01;   ///< quick noise, one axis
  double wander_sd_mps = 0.02;   ///< velocity of their smooth wandering
  double wander_time_s = 2.0;    ///< its time constant
  double kick_mean_mps = 0.0;    ///< a launch sets them wandering along the road ...
  double kick_sd_mps = 0.0;      ///< ... each a little otherwise
  double degree_step = 1e-7;     ///< of the written coordinates
  double speed_step_mps = 0.0;   ///< of the written speeds; 0: exact
  double jitter_s = 0.0;         ///< sd of the stamp against the instant of the reading
  bool whole_seconds = false;    ///< stamps cut to seconds
  double accuracy_factor = 0.0;  ///< its own figures over the true noise; 0: gives none

  [[nodiscard]] bool with_speed() const { return kind <= Kind::phone; }
  /// By how much later than the truth its speeds stand in the log, s.
  [[nodiscard]] double late_s() const;
};

/// What the device would have logged of the ride, which began at `begin`. Stamps in whole seconds go through
/// the CSV reader, which spreads repeated ones; the others are fixes as any reader makes them.
[[nodiscard]] Log record(const sim::Truth& truth, const Device& device, std::uint64_t seed, Instant begin);

}  // namespace bothways::population
