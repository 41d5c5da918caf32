#pragma once

#include "bothways/log/log.hpp"
#include "support/simulate/truth.hpp"

#include <cstdint>

namespace bothways::sim {

/// How noise enters the reported speed: length of the velocity vector, or of its part along the road.
enum class SpeedNoise { vector, folded };

/// A GNSS receiver's habits. Defaults: a good 10 Hz logger. Noise sd are per axis.
struct ReceiverModel {
  double rate_hz = 10.0;
  double phase_s = 0.0;       ///< time of the first fix after the beginning of the ride
  bool with_speed = true;     ///< false: positions only
  bool with_position = true;  ///< false: no coordinates (and no course)
  SpeedNoise noise = SpeedNoise::vector;
  double white_sd_mps = 0.035;     ///< independent from reading to reading
  double slow_sd_mps = 0.035;      ///< slowly correlated ...
  double slow_time_s = 5.0;        ///< ... with this time
  double lag_s = 0.0;              ///< first-order smoothing inside, time constant
  double delay_s = 0.0;            ///< pure delay of the speed
  double zero_hold_mps = 0.0;      ///< below this a reading is exactly 0
  double stuck_below_mps = 0.0;    ///< phones: once at rest, 0 goes on up to this speed ...
  double stuck_probability = 0.0;  ///< ... with this chance a fix
  double overshoot_mps = 0.0;      ///< phones: most by which a hard launch reads too fast, 0.8 s after it
  double resolution_mps = 0.0;     ///< step of the written speed; 0: exact
  double time_jitter_s = 0.0;      ///< sd of the stamp against the instant of the reading
  bool whole_second_stamps = false;
  double dropouts_per_min = 0.0;
  double dropout_s = 3.0;  ///< longest; drawn evenly from 0.3 of it
  double spikes_per_min = 0.0;
  double spike_mps = 3.0;     ///< sd of a wild reading's error
  double jams_per_min = 0.0;  ///< at rest: jammed, it gives a wild speed and place for 1-4 s
  double jam_mps = 68.6;      ///< 247 km/h
  double position_white_sd_m = 0.02;
  double position_drift_sd_m = 1.5;
  double position_drift_time_s = 60.0;
  double position_smooth_s = 0.0;  ///< the drift smoothed by this time: a receiver that filters its positions
  double position_lag_s = 0.0;     ///< positions smoothed inside as well
  int coordinate_decimals = 7;     ///< of a degree
  double height_sd_m = 1.0;        ///< slow
  bool with_accuracy = false;      ///< gives its own speed accuracy (a phone's 68 % figure) and position sd
};

/// A logger with this sd of noise, half of its variance white and half slowly correlated.
[[nodiscard]] ReceiverModel logger(double rate_hz, double noise_mps);

/// A phone: noisy, late, at zero for too long, six decimals of a degree.
[[nodiscard]] ReceiverModel phone(double rate_hz);

/// What the receiver would have logged of the ride, which began at `begin`.
[[nodiscard]] Log receive(const Truth& truth, const ReceiverModel& model, std::uint64_t seed,
                          Instant begin = {1'777'887'000'000'000});

}  // namespace bothways::sim
