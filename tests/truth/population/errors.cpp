#include "truth/population/errors.hpp"

#include "truth/population/ranges.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways::population {

namespace {

constexpr double at_rest_mps = 0.02;

}  // namespace

double noise_sd_mps(const Device& device, double v_mps, double a_mps2) {
  const double moving = 1.0 - std::exp(-v_mps / device.rest_speed_mps);
  const double level = device.rest_ratio + (1.0 - device.rest_ratio) * moving;
  return device.motion_sd_mps * level * (1.0 + (device.growth - 1.0) * (1.0 - std::exp(-std::abs(a_mps2))));
}

SpeedNoise::SpeedNoise(const Device& device, sim::Random& random)
    : device_(device),
      slow_{sim::SlowNoise(1.0, device.slow_time_s, random), sim::SlowNoise(1.0, device.slow_time_s, random)},
      coloured_{Filter(device.smoothing, 0.0), Filter(device.smoothing, 0.0)},
      colour_gain_(Filter::gain(device.smoothing)) {}

double SpeedNoise::quick(std::size_t axis, sim::Random& random) {
  const double before = device_.smoothing.delay_s > 0.0 ? device_.before_share : 0.0;
  return std::sqrt(before) * colour_[axis] / colour_gain_ + std::sqrt(1.0 - before) * random.normal();
}

std::array<double, 2> SpeedNoise::at(double t_s, double v_mps, double a_mps2, sim::Random& random) {
  if (device_.before_share > 0.0 && device_.smoothing.delay_s > 0.0) {
    while (colour_t_s_ < t_s) {
      colour_t_s_ += filter_step_s;
      for (std::size_t axis = 0; axis < 2; ++axis) {
        colour_[axis] = coloured_[axis].step(random.normal());
      }
    }
  }
  const double dt_s = t_s - t_s_;
  t_s_ = t_s;
  // Two states; the mean stay in the wild one is a burst, and the share of time there is wild_share.
  const double leave = std::min(1.0, dt_s / device_.burst_s);
  const double enter = leave * device_.wild_share / (1.0 - device_.wild_share);
  wild_ = wild_ ? !chance(random, leave) : chance(random, enter);
  const double sd = noise_sd_mps(device_, v_mps, a_mps2);
  std::array<double, 2> noise{};
  for (std::size_t axis = 0; axis < 2; ++axis) {
    const double slow = slow_[axis].step(dt_s, random);
    const double wide = wild_ ? device_.wild_scale : 1.0;
    noise[axis] = sd * (std::sqrt(device_.slow_share) * slow +
                        std::sqrt(1.0 - device_.slow_share) * wide * quick(axis, random));
  }
  return noise;
}

PositionError::PositionError(const Device& device, sim::Random& random) : device_(device) {
  for (std::size_t axis = 0; axis < 2; ++axis) {
    error_m_[axis] = 10.0 * device.wander_sd_mps * random.normal();
  }
}

void PositionError::step(double dt_s, double v_mps, const std::array<double, 2>& direction,
                         sim::Random& random) {
  if (stands_ && v_mps > at_rest_mps) {
    const double kick_mps = device_.kick_mean_mps + device_.kick_sd_mps * random.normal();
    kick_mps_ = {kick_mps * direction[0], kick_mps * direction[1]};
    since_launch_s_ = 0.0;
  }
  stands_ = v_mps <= at_rest_mps;
  constexpr double least_step_s = 0.1;
  const int steps = std::max(1, static_cast<int>(std::lround(dt_s / least_step_s)));
  const double h = dt_s / steps;
  const double keep = std::exp(-h / device_.wander_time_s);
  const double moves = stands_ ? device_.rest_ratio : 1.0;
  for (int i = 0; i < steps; ++i) {
    since_launch_s_ += h;
    const double u = since_launch_s_ / device_.wander_time_s;
    const double kicked = u < 30.0 ? u * std::exp(1.0 - u) : 0.0;  // at its full height after wander_time_s
    for (std::size_t axis = 0; axis < 2; ++axis) {
      // Of two equal stages in a row the second has half of the first one's variance.
      const double push = std::sqrt(2.0) * device_.wander_sd_mps * std::sqrt(1.0 - keep * keep);
      pushed_mps_[axis] = keep * pushed_mps_[axis] + push * random.normal();
      drift_mps_[axis] = keep * drift_mps_[axis] + (1.0 - keep) * pushed_mps_[axis];
      error_m_[axis] +=
          h * (moves * drift_mps_[axis] + kicked * kick_mps_[axis] - error_m_[axis] / range::wander_leak_s);
    }
  }
}

}  // namespace bothways::population
