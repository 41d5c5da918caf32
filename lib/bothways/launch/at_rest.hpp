#pragma once

#include "bothways/launch/model.hpp"
#include "bothways/launch/reading.hpp"
#include "bothways/numeric/kalman.hpp"
#include "bothways/numeric/markov_chain.hpp"

#include <vector>

namespace bothways {

/// The slow error of the readings as known at a time.
struct SlowError {
  numeric::Normal law;  ///< before any reading, the stationary one
  double t_s = 0.0;
};

/// Its law later on: it decays to the stationary one.
[[nodiscard]] numeric::Normal slow_error_at(const SlowError& known, double t_s,
                                            const numeric::MotionModel& motion);

/// Filter over the readings before the launch, for a vehicle that still stands. Entry k: after the first k.
struct RestFilter {
  std::vector<double> log_likelihood;  ///< (m + 1) log p(first k readings | at rest)
  std::vector<SlowError> slow_error;   ///< (m + 1)
};

/// Speeds: those from a few seconds before the first launch considered to the last one count.
[[nodiscard]] RestFilter filter_at_rest(const std::vector<Reading>& readings, const LaunchRange& range,
                                        const LaunchModel& model);

/// Filter of a receiver's speeds at rest: lengths of white noise beside a slow error, whose own length
/// wanders as a hidden Markov chain. Neighbours share the slow error, so a swell of it counts once and is not
/// taken for a launch (docs/method.md, "Near rest").
class RestSpeedFilter {
 public:
  explicit RestSpeedFilter(const LaunchModel& model);

  /// log p(reading | those before). In order of time.
  double update(const Reading& reading);

  /// Variance of the slow error along the road, (m/s)^2, given the readings so far.
  [[nodiscard]] double slow_variance() const;

 private:
  /// Density of a length where the slow error has one and the white noise a variance.
  [[nodiscard]] double at_rest_density(double z, double slow_mps, double variance) const;

  LaunchModel model_;
  double white_variance_;
  double step_mps_;  ///< between levels of the slow error's length
  numeric::HiddenMarkovChain chain_;
  double t_s_ = 0.0;
  bool any_ = false;
};

}  // namespace bothways
