#include "support/simulate/receiver.hpp"

#include "bothways/core/units.hpp"
#include "support/simulate/random.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace bothways::sim {

namespace {

double rounded(double value, double step) {
  return step > 0.0 ? std::round(value / step) * step : value;
}

/// First-order smoothing of speed and travel, moved along in small steps.
class Smoother {
 public:
  Smoother(const Truth& truth, double speed_lag_s, double place_lag_s)
      : reader_(truth), speed_lag_s_(speed_lag_s), place_lag_s_(place_lag_s), row_(reader_.at(0.0)) {}

  /// State at t_s, a time not before that of the last call.
  const TruthRow& at(double t_s) {
    if (speed_lag_s_ <= 0.0 && place_lag_s_ <= 0.0) {
      row_ = reader_.at(t_s);
      return row_;
    }
    while (t_ < t_s) {
      const double h = std::min(0.005, t_s - t_);
      const TruthRow mid = reader_.at(t_ + 0.5 * h);
      t_ += h;
      follow(mid, h);
    }
    return row_;
  }

 private:
  void follow(const TruthRow& truth, double h) {
    const double v = speed_lag_s_ > 0.0 ? 1.0 - std::exp(-h / speed_lag_s_) : 1.0;
    const double p = place_lag_s_ > 0.0 ? 1.0 - std::exp(-h / place_lag_s_) : 1.0;
    const TruthRow exact = reader_.at(t_);
    const double v_mps = row_.v_mps + v * ((speed_lag_s_ > 0.0 ? truth : exact).v_mps - row_.v_mps);
    const double x_m = row_.x_m + p * ((place_lag_s_ > 0.0 ? truth : exact).x_m - row_.x_m);
    const double y_m = row_.y_m + p * ((place_lag_s_ > 0.0 ? truth : exact).y_m - row_.y_m);
    row_ = exact;
    row_.v_mps = v_mps;
    row_.x_m = x_m;
    row_.y_m = y_m;
  }

  TruthReader reader_;
  double speed_lag_s_;
  double place_lag_s_;
  double t_ = 0.0;
  TruthRow row_;
};

class Antenna {
 public:
  Antenna(const Truth& truth, const ReceiverModel& model, std::uint64_t seed)
      : model_(model),
        road_(truth.road),
        plane_(truth.road.origin),
        random_(seed),
        along_(model.slow_sd_mps, model.slow_time_s, random_),
        across_(model.slow_sd_mps, model.slow_time_s, random_),
        east_(model.position_drift_sd_m, model.position_drift_time_s, random_),
        north_(model.position_drift_sd_m, model.position_drift_time_s, random_),
        height_(model.height_sd_m, 60.0, random_),
        drift_{east_.value(), north_.value()},
        speed_(truth, model.lag_s, 0.0),
        place_(truth, 0.0, model.position_lag_s) {}

  Fix fix(double t_s, double dt_s) {
    const TruthRow place = place_.at(t_s);
    const TruthRow moving = speed_.at(std::max(0.0, t_s - model_.delay_s));
    Fix fix;
    const double n_along = noise(along_, model_.white_sd_mps, dt_s);
    const double n_across = noise(across_, model_.white_sd_mps, dt_s);
    const double spike =
        random_.uniform() < model_.spikes_per_min / 60.0 * dt_s ? model_.spike_mps * random_.normal() : 0.0;
    if (model_.jams_per_min > 0.0) {
      jam(moving, t_s, dt_s);
    }
    if (model_.with_speed) {
      fix.speed_mps =
          t_s < jammed_until_s_ ? model_.jam_mps + n_along : reading(moving, dt_s, n_along + spike, n_across);
    }
    if (model_.with_position) {
      set_place(fix, place, dt_s);
      if (model_.with_speed) {
        fix.course_deg = std::fmod(
            course_deg(road_, place) +
                std::atan2(n_across, std::max(0.05, moving.v_mps + n_along)) * 180.0 / std::numbers::pi +
                360.0,
            360.0);
      }
    }
    if (model_.with_accuracy && model_.with_speed) {
      fix.position_sd_m = rounded(std::hypot(model_.position_white_sd_m, model_.position_drift_sd_m), 0.01);
      fix.speed_sd_mps = rounded(std::hypot(model_.white_sd_mps, model_.slow_sd_mps), 0.01) + 0.01;
    }
    fix.hdop = 0.9;
    fix.satellites = 12;
    return fix;
  }

  [[nodiscard]] Random& random() { return random_; }

 private:
  double reading(const TruthRow& moving, double dt_s, double n_along, double n_across) {
    double v = moving.v_mps;
    since_rest_s_ = moving.v_mps < 1e-9 ? 0.0 : since_rest_s_ + dt_s;
    if (model_.overshoot_mps > 0.0 && since_rest_s_ > 0.0) {
      const double u = since_rest_s_ / 0.8;
      v += model_.overshoot_mps * u * std::exp(1.0 - u) * std::min(1.0, v / (2.0 * since_rest_s_));
    }
    v = model_.noise == SpeedNoise::vector ? std::hypot(v + n_along, n_across) : std::abs(v + n_along);
    stuck_ = moving.v_mps < 1e-9 || (stuck_ && moving.v_mps < model_.stuck_below_mps &&
                                     random_.uniform() < model_.stuck_probability);
    if (v < model_.zero_hold_mps || (stuck_ && model_.stuck_below_mps > 0.0)) {
      return 0.0;
    }
    return rounded(v, model_.resolution_mps);
  }

  /// Slow part, then white part: two statements, so that every compiler draws in this order.
  double noise(SlowNoise& slow, double white_sd, double dt_s) {
    const double slow_part = slow.step(dt_s, random_);
    return slow_part + white_sd * random_.normal();
  }

  void jam(const TruthRow& moving, double t_s, double dt_s) {
    if (moving.v_mps < 1e-9 && t_s >= jammed_until_s_ &&
        random_.uniform() < model_.jams_per_min / 60.0 * dt_s) {
      jammed_until_s_ = t_s + random_.uniform(1.0, 4.0);
      jump_m_ = random_.uniform(-1000.0, 1000.0);
    }
  }

  /// The drift of one axis moved on, smoothed if the receiver filters its positions.
  double drifted(SlowNoise& axis, double& smoothed_m, double dt_s) {
    const double value_m = axis.step(dt_s, random_);
    const double keep = model_.position_smooth_s > 0.0 ? std::exp(-dt_s / model_.position_smooth_s) : 0.0;
    smoothed_m = keep * smoothed_m + (1.0 - keep) * value_m;
    return smoothed_m;
  }

  void set_place(Fix& fix, const TruthRow& place, double dt_s) {
    const LatLon at = place_of(plane_, road_, place);
    PlanePoint point = plane_.to_plane(at);
    point.east_m += drifted(east_, drift_.east_m, dt_s);
    point.east_m += model_.position_white_sd_m * random_.normal();
    point.north_m += drifted(north_, drift_.north_m, dt_s);
    point.north_m += model_.position_white_sd_m * random_.normal();
    point.north_m += place.t_s < jammed_until_s_ ? jump_m_ : 0.0;
    const LatLon seen = plane_.from_plane(point);
    const double step_deg = std::pow(10.0, -model_.coordinate_decimals);
    fix.lat_deg = rounded(seen.lat_deg, step_deg);
    fix.lon_deg = rounded(seen.lon_deg, step_deg);
    fix.ele_m = rounded(height_at(road_, place.x_m) + height_.step(dt_s, random_), 0.1);
  }

  ReceiverModel model_;
  Road road_;
  LocalPlane plane_;
  Random random_;
  SlowNoise along_;
  SlowNoise across_;
  SlowNoise east_;
  SlowNoise north_;
  SlowNoise height_;
  PlanePoint drift_;
  Smoother speed_;
  Smoother place_;
  bool stuck_ = true;
  double since_rest_s_ = 0.0;
  double jammed_until_s_ = -1.0;
  double jump_m_ = 0.0;
};

}  // namespace

ReceiverModel logger(double rate_hz, double noise_mps) {
  ReceiverModel model;
  model.rate_hz = rate_hz;
  model.white_sd_mps = noise_mps / std::sqrt(2.0);
  model.slow_sd_mps = model.white_sd_mps;
  return model;
}

ReceiverModel phone(double rate_hz) {
  ReceiverModel model = logger(rate_hz, 0.3);
  model.lag_s = 0.3;
  model.zero_hold_mps = 0.5;
  model.stuck_below_mps = 2.0;
  model.stuck_probability = 0.4;
  model.resolution_mps = 0.01;
  model.coordinate_decimals = 6;
  model.position_white_sd_m = 0.3;
  model.position_drift_sd_m = 2.5;
  return model;
}

Log receive(const Truth& truth, const ReceiverModel& model, std::uint64_t seed, Instant begin) {
  Antenna antenna(truth, model, seed);
  Random silence(seed ^ 0x53494c45U);
  Log log;
  log.path = "simulated";
  log.format = LogFormat::csv;
  const double step_s = 1.0 / model.rate_hz;
  double silent_until_s = -1.0;
  double last_s = 0.0;
  const auto count =
      static_cast<std::size_t>(std::max(0.0, (truth.duration_s() - model.phase_s) * model.rate_hz));
  log.fixes.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double t_s = model.phase_s + static_cast<double>(i) * step_s;
    Fix fix = antenna.fix(t_s, t_s - last_s);
    last_s = t_s;
    if (t_s >= silent_until_s && silence.uniform() < model.dropouts_per_min / 60.0 * step_s) {
      silent_until_s = t_s + model.dropout_s * silence.uniform(0.3, 1.0);
    }
    if (t_s < silent_until_s) {
      continue;
    }
    double stamp_s = t_s;
    if (model.time_jitter_s > 0.0) {
      stamp_s += std::clamp(model.time_jitter_s * silence.normal(), -0.45 * step_s, 0.45 * step_s);
    }
    fix.time = shifted(begin, stamp_s);
    if (model.whole_second_stamps) {
      fix.time.unix_us -= fix.time.unix_us % 1'000'000;
    }
    log.fixes.push_back(fix);
  }
  return log;
}

}  // namespace bothways::sim
