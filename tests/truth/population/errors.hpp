#pragma once

#include "support/simulate/random.hpp"
#include "truth/population/device.hpp"
#include "truth/population/filter.hpp"

#include <array>

namespace bothways::population {

/// sd of a reading of speed, one axis, at a true speed and acceleration: from rest up to motion, and with the
/// acceleration (half of the growth at 0.7 m/s^2).
[[nodiscard]] double noise_sd_mps(const Device& device, double v_mps, double a_mps2);

/// Noise of the readings of speed, both axes.
class SpeedNoise {
 public:
  SpeedNoise(const Device& device, sim::Random& random);
  /// At the next reading, at t_s, of a vehicle that truly goes v and a there.
  [[nodiscard]] std::array<double, 2> at(double t_s, double v_mps, double a_mps2, sim::Random& random);

 private:
  [[nodiscard]] double quick(std::size_t axis, sim::Random& random);

  Device device_;
  std::array<sim::SlowNoise, 2> slow_;
  std::array<Filter, 2> coloured_;
  std::array<double, 2> colour_{};
  double colour_gain_;
  double colour_t_s_ = 0.0;
  double t_s_ = 0.0;
  bool wild_ = false;
};

/// Error of the positions, both axes, m: smooth wandering, thrown by each launch.
class PositionError {
 public:
  PositionError(const Device& device, sim::Random& random);
  /// Moves on by dt_s of a vehicle that goes v_mps in the direction (cosine, sine).
  void step(double dt_s, double v_mps, const std::array<double, 2>& direction, sim::Random& random);
  [[nodiscard]] const std::array<double, 2>& value_m() const { return error_m_; }

 private:
  Device device_;
  std::array<double, 2> pushed_mps_{};  ///< first stage of the wandering's velocity
  std::array<double, 2> drift_mps_{};   ///< second stage: smooth
  std::array<double, 2> error_m_{};
  std::array<double, 2> kick_mps_{};
  double since_launch_s_ = 1e9;
  bool stands_ = true;
};

}  // namespace bothways::population
