#pragma once

#include "bothways/numeric/state_space.hpp"
#include "bothways/speed/series.hpp"

namespace bothways {

/// Dead band of a receiver: P(reads 0 | v) falls from 1 to 0 round hold_mps; a share of the readings (phones)
/// is held up to far_mps.
struct DeadBand {
  double hold_mps = 0.0;  ///< 0: there is none
  double width_mps = 0.02;
  double far_share = 0.0;
  double far_mps = 2.0;
};

/// q where a log says nothing of its launches, m^2/s^5: the median of its log-normal prior (docs/method.md,
/// section 4).
inline constexpr double usual_jerk_density = 4.0;

/// What all starts of a log share: the motion and the receiver's errors. One value, made from the log's
/// receiver and then estimated from its launches (estimate.hpp).
struct LaunchModel {
  numeric::MotionModel motion;  ///< filter: that of a hypothesis takes its place
  DeadBand dead_band;
  double rest_sd = 0.05;        ///< of one noise at rest, m/s; for positions: not used
  int rest_axes = 1;            ///< at rest a reading is the length of this many noises, 1 or 2
  double resolution_mps = 0.0;  ///< step of the written speed
  double rounding_mps = 0.0;    ///< that step where it is coarse beside the noise at rest, else 0
  double white_factor = 1.0;    ///< of the readings' variances in motion, > 0
  double unseen_creep_s = 0.0;  ///< a vehicle may creep this long before anything shows
  double movement_sd_s = 0.0;   ///< of first movement beyond t0's posterior: no shape is the true one
  double filter_discrepancy_sd_s = 0.0;  ///< of a time from one foot likewise: no filter is the true one
  double dead_band_sd_s = 0.0;           ///< of such a time, for what readings held to 0 hide
  double launch_stray_variance = 0.0;    ///< of r at first movement, (m/s)^2
  bool positions = false;                ///< readings are positions
};

/// The model of a series' starts with usual values where the log says nothing.
[[nodiscard]] LaunchModel launch_model(const SpeedSeries& series);

}  // namespace bothways
