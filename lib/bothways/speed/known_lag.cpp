#include "bothways/speed/known_lag.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr double least_known_sd_s = 0.03;
constexpr double sds_beyond_noise = 2.0;
constexpr double lag_is_smoothing = 0.5;  // probability that speeds late by a lag are smoothed by it
constexpr double lag_is_mean = 0.5;       // probability that it is an app's mean over readings of a slow log
constexpr double lead_is_prediction = 0.5;  // else the places are late
constexpr double least_mean_steps = 0.25;

double noise_s(const Receiver& r) {
  return sds_beyond_noise * std::max(r.lag_sd_s, least_known_sd_s);
}

/// The mean over the last readings, each with the same share less than the one after it, that comes late by
/// the lag; its share of the speed itself is above 1, and the mean is taken off, where speeds come early: a
/// prediction from the last change. How brakes end is looked at for too short a time to tell of either.
SpeedFilter mean_of_readings(const Receiver& r) {
  const double step_s = 1.0 / r.rate_hz;
  if (r.lag_s < 0.0) {
    return {.lag_s = step_s, .feedthrough = 1.0 - r.lag_s / step_s};
  }
  return {.lag_s = step_s + r.lag_s, .feedthrough = step_s / (step_s + r.lag_s)};
}

}  // namespace

std::vector<Smoothing> filters_of_known_lag(const Receiver& r) {
  const bool slow = r.rate_hz < phone_speeds_below_hz;
  std::vector<Smoothing> out;
  if (r.lag_s < -noise_s(r) && slow) {
    out.push_back({mean_of_readings(r), lead_is_prediction});
  }
  if (r.lag_s < noise_s(r)) {
    return out;
  }
  double left = 1.0;
  if (slow && r.lag_s > least_mean_steps / r.rate_hz) {
    out.push_back({mean_of_readings(r), lag_is_mean});
    left -= lag_is_mean;
  }
  if (r.lag_s <= longest_smoothing_s + noise_s(r)) {
    out.push_back({{.lag_s = r.lag_s}, left * lag_is_smoothing});
  }
  return out;
}

}  // namespace bothways
