#include "truth/population/device.hpp"

#include "bothways/core/geodesy.hpp"
#include "support/simulate/write.hpp"
#include "truth/population/errors.hpp"
#include "truth/population/filter.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace bothways::population {

namespace {

double rounded(double value, double step) {
  return step > 0.0 ? std::round(value / step) * step : value;
}

/// Whether the receiver takes the vehicle for standing.
class Hold {
 public:
  explicit Hold(const Device& device) : device_(device) {}

  bool is_held(double reading_mps, double dt_s) {
    if (device_.hold_mps <= 0.0) {
      return false;
    }
    slow_s_ = reading_mps < device_.hold_entry_mps ? slow_s_ + dt_s : 0.0;
    held_ = held_ ? reading_mps < device_.hold_mps
                  : reading_mps < device_.hold_entry_mps && slow_s_ >= device_.hold_settle_s;
    return held_;
  }

 private:
  Device device_;
  bool held_ = true;
  double slow_s_ = 0.0;
};

class Recorder {
 public:
  Recorder(const sim::Truth& truth, const Device& device, std::uint64_t seed)
      : device_(device),
        road_(truth.road),
        plane_(truth.road.origin),
        random_(seed),
        exact_(truth),
        speed_(truth, device.smoothing),
        place_(truth, device.positions_smoothed ? device.smoothing : DeviceSmoothing{}),
        noise_(device, random_),
        error_(device, random_),
        hold_(device) {}

  Fix fix(double t_s) {
    const double dt_s = t_s - last_s_;
    last_s_ = t_s;
    const double moved_s = t_s - device_.stamp_delay_s;
    const double speed_s = moved_s - device_.speed_delay_s;
    const sim::TruthRow exact = exact_.at(std::max(0.0, speed_s));
    const Motion seen = speed_.at(speed_s);
    const double v_mps = std::hypot(seen.vx_mps, seen.vy_mps);
    if (v_mps > 1e-3) {
      direction_ = {seen.vx_mps / v_mps, seen.vy_mps / v_mps};
    }
    const auto noise = noise_.at(t_s, exact.v_mps, exact.a_mps2, random_);
    const double reading_mps = std::hypot(v_mps + noise[0], device_.two_axes ? noise[1] : 0.0);
    const bool held = hold_.is_held(reading_mps, dt_s);
    error_.step(dt_s, exact.v_mps, direction_, random_);
    Fix fix;
    set_place(fix, place_.at(moved_s), dt_s, held);
    if (device_.with_speed()) {
      fix.speed_mps = held ? 0.0 : rounded(reading_mps, device_.speed_step_mps);
      set_course(fix);
    }
    set_accuracy(fix, exact);
    return fix;
  }

  [[nodiscard]] sim::Random& random() { return random_; }

 private:
  /// Frozen while held; afterwards the way that was missed is made up for little by little.
  void set_place(Fix& fix, const Motion& motion, double dt_s, bool held) {
    const std::array<double, 2> live{motion.x_m + error_.value_m()[0], motion.y_m + error_.value_m()[1]};
    const bool frozen = held && device_.freezes && written_once_;
    for (std::size_t axis = 0; axis < 2; ++axis) {
      if (frozen) {
        behind_m_[axis] = written_m_[axis] - live[axis];
      } else {
        behind_m_[axis] *= std::exp(-2.5 * dt_s / device_.catch_up_s);
        written_m_[axis] = live[axis] + behind_m_[axis];
      }
    }
    written_once_ = true;
    sim::TruthRow row;
    row.x_m = written_m_[0] + (frozen ? 0.0 : device_.position_sd_m * random_.normal());
    row.y_m = written_m_[1] + (frozen ? 0.0 : device_.position_sd_m * random_.normal());
    const LatLon at = sim::place_of(plane_, road_, row);
    fix.lat_deg = rounded(at.lat_deg, device_.degree_step);
    fix.lon_deg = rounded(at.lon_deg, device_.degree_step);
  }

  void set_course(Fix& fix) {
    const double course_deg =
        road_.heading_deg - std::atan2(direction_[1], direction_[0]) * 180.0 / std::numbers::pi;
    fix.course_deg = std::fmod(course_deg + 720.0, 360.0);
  }

  void set_accuracy(Fix& fix, const sim::TruthRow& exact) const {
    if (device_.accuracy_factor <= 0.0) {
      return;
    }
    const double sd_mps = noise_sd_mps(device_, exact.v_mps, exact.a_mps2);
    fix.speed_sd_mps =
        device_.with_speed() ? std::max(0.01, rounded(device_.accuracy_factor * sd_mps, 0.01)) : unknown;
    fix.position_sd_m = std::max(
        0.1, rounded(device_.accuracy_factor * std::hypot(device_.position_sd_m, 5.0 * device_.wander_sd_mps),
                     0.1));
  }

  Device device_;
  sim::Road road_;
  LocalPlane plane_;
  sim::Random random_;
  sim::TruthReader exact_;
  SmoothedMotion speed_;
  SmoothedMotion place_;
  SpeedNoise noise_;
  PositionError error_;
  Hold hold_;
  std::array<double, 2> direction_{1.0, 0.0};
  std::array<double, 2> behind_m_{};
  std::array<double, 2> written_m_{};
  bool written_once_ = false;
  double last_s_ = 0.0;
};

}  // namespace

const char* to_string(Kind kind) {
  switch (kind) {
    case Kind::logger:
      return "10 Hz and more";
    case Kind::slow_logger:
      return "5 Hz";
    case Kind::phone:
      return "phone";
    case Kind::phone_positions:
      return "phone, positions";
    case Kind::logger_positions:
      return "logger, positions";
  }
  return "";
}

double Device::late_s() const {
  return stamp_delay_s +
         (with_speed() ? speed_delay_s + smoothing.delay_s : (positions_smoothed ? smoothing.delay_s : 0.0));
}

Log record(const sim::Truth& truth, const Device& device, std::uint64_t seed, Instant begin) {
  Recorder recorder(truth, device, seed);
  Log log;
  log.path = "simulated";
  log.format = LogFormat::csv;
  const double step_s = 1.0 / device.rate_hz;
  const auto count =
      static_cast<std::size_t>(std::max(0.0, (truth.duration_s() - device.phase_s) * device.rate_hz));
  log.fixes.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    const double t_s = device.phase_s + static_cast<double>(i) * step_s;
    Fix fix = recorder.fix(t_s);
    const double off_s = device.jitter_s * recorder.random().normal();
    fix.time = shifted(begin, t_s + std::clamp(off_s, -0.45 * step_s, 0.45 * step_s));
    if (device.whole_seconds) {
      fix.time.unix_us -= fix.time.unix_us % 1'000'000;
    } else {
      fix.time.unix_us -= fix.time.unix_us % 1'000;  // milliseconds, as logs are written
    }
    log.fixes.push_back(fix);
  }
  return device.whole_seconds ? sim::read_back(sim::to_csv(log)) : log;
}

}  // namespace bothways::population
