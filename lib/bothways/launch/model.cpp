// docs/method.md, eq. (5.4) and below it: unseen_creep_s, movement_sd_s; (5.8): filter_discrepancy_sd_s,
// dead_band_sd_s.
#include "bothways/launch/model.hpp"

#include "bothways/speed/positions.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr double creep_accel_mps2 = 0.5;  // of a clutch that begins to take hold, eq. (5.4)
constexpr double longest_unseen_s = 0.45;
// Of first movement, whatever the likely shapes say, section 5 of docs/method.md; by the population, seeds 1
// and 2.
constexpr double shape_discrepancy_s = 0.12;
// Of times from one foot, whatever the likely filters say; by receivers that are none of them, decision 0053.
constexpr double filter_discrepancy_s = 0.014;
// Of a phone's positions alone: how it filters them, nothing shows.
constexpr double phone_filter_discrepancy_s = 0.12;
constexpr double dead_band_s_per_mps = 0.06;  // a rider may paddle below the speed that is held to 0
constexpr double stray_span_s = 0.5;
constexpr double usual_accel_mps2 = 3.0;
constexpr double accel_time_s = 4.0;  // v / a of small vehicles at 30 mph: with constant power a' = -a^2 / v
// A receiver that filters its positions goes astray, and most at the launch (phones beside a wheel: steps of
// a second off by 0.3 to 1.5 m, the first fixes by 0.5 to 1.7 m).
constexpr double stray_time_s = 1.8;
constexpr double launch_stray = 1.4;  // sd at the launch over that later

}  // namespace

LaunchModel launch_model(const SpeedSeries& series) {
  const Receiver& r = series.receiver;
  LaunchModel model;
  model.positions = series.source == SpeedSource::positions;
  model.motion.jerk_density = usual_jerk_density;
  model.motion.accel_decay_per_s = 1.0 / accel_time_s;
  if (model.positions) {
    model.motion.slow_sd = std::max(r.position_drift_sd_m, 1e-3);
    model.motion.slow_time_s = r.position_drift_time_s;
    model.motion.stray_sd = r.position_stray_sd_mps;
    model.motion.stray_time_s = stray_time_s;
    model.launch_stray_variance =
        launch_stray * launch_stray * r.position_stray_sd_mps * r.position_stray_sd_mps;
  } else {
    model.motion.slow_sd = r.slow_sd_mps;
    model.motion.slow_time_s = r.slow_time_s;
  }
  model.rest_sd = r.standing_sd_mps;
  model.rest_axes = r.standing_axes;
  const bool rounded = !model.positions && r.zero_hold_mps <= 0.0 &&
                       is_coarse_step(r.resolution_mps, model.rest_sd * std::sqrt(model.rest_axes));
  model.rounding_mps = rounded ? r.resolution_mps : 0.0;
  const double unseen_mps = std::max({r.zero_hold_mps, 1.5 * model.rest_sd, 0.5 * model.rounding_mps});
  model.unseen_creep_s = std::min(unseen_mps / creep_accel_mps2, longest_unseen_s);
  model.movement_sd_s = model.positions
                            ? std::sqrt(2.0 * r.position_stray_sd_mps * stray_span_s / usual_accel_mps2)
                            : shape_discrepancy_s;
  const bool phone_positions = model.positions && r.rate_hz < phone_positions_below_hz;
  model.filter_discrepancy_sd_s = phone_positions ? phone_filter_discrepancy_s : filter_discrepancy_s;
  model.dead_band_sd_s = dead_band_s_per_mps * r.zero_hold_mps;
  model.resolution_mps = r.resolution_mps;
  if (r.zero_hold_mps > 0.0) {
    model.dead_band.hold_mps = r.zero_hold_mps;
    model.dead_band.width_mps = std::max(r.zero_hold_width_mps, 0.02);
    model.dead_band.far_share = r.rate_hz < 3.0 ? 0.15 : 0.0;
  }
  return model;
}

}  // namespace bothways
