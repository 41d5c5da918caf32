#pragma once

#include "truth/population/device.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace bothways::population {

/// One signal through a receiver's smoothing, at steps of filter_step_s.
inline constexpr double filter_step_s = 0.01;

class Filter {
 public:
  Filter(const DeviceSmoothing& smoothing, double first);
  double step(double value);  ///< takes the next input and gives the output there
  /// sd of the output for independent inputs of sd 1.
  [[nodiscard]] static double gain(const DeviceSmoothing& smoothing);

 private:
  DeviceSmoothing smoothing_;
  double keep_ = 0.0;               ///< of one stage, a step
  std::array<double, 2> stages_{};  ///< first and second order
  std::vector<double> window_;      ///< boxcar
  std::size_t next_ = 0;
  double sum_ = 0.0;
};

/// The true motion as it comes out of the smoothing.
struct Motion {
  double vx_mps = 0.0;  ///< along the road's x axis
  double vy_mps = 0.0;
  double x_m = 0.0;
  double y_m = 0.0;
};

class SmoothedMotion {
 public:
  SmoothedMotion(const sim::Truth& truth, const DeviceSmoothing& smoothing);
  /// At t_s, a time not before that of the last call; before the ride it stands where it began.
  [[nodiscard]] Motion at(double t_s);

 private:
  [[nodiscard]] Motion truth_at(double t_s);

  sim::TruthReader reader_;
  bool smooths_;
  std::array<Filter, 4> filters_;
  double t_s_ = 0.0;  ///< of `now_`
  Motion before_;
  Motion now_;
};

}  // namespace bothways::population
