#pragma once

#include "bothways/launch/launch.hpp"
#include "bothways/numeric/level_chain.hpp"

#include <optional>
#include <vector>

namespace bothways {

/// The law of a receiver's readings at rest: the length of white noise beside a slow error, whose own length
/// wanders. Neighbours share the slow error, so a swell of it counts once and is not taken for a launch
/// (docs/method.md, "Near rest"). The slow error's length is followed over a grid of levels.
class StandingLaw {
 public:
  /// The model's lengths at rest must be speeds, not positions.
  explicit StandingLaw(const LaunchModel& model);

  /// log p(reading | those before); takes it into the belief. In order of time.
  double take(const Reading& reading);

  /// Variance of the slow error along the road, (m/s)^2, given the readings so far.
  [[nodiscard]] double slow_variance() const;

 private:
  LaunchModel model_;
  double white_variance_ = 0.0;
  double step_mps_ = 0.0;  ///< between levels of the slow error's length
  std::optional<numeric::LevelChain> chain_;
  double t_s_ = 0.0;
  bool any_ = false;
};

/// Sets what speeds say if the vehicle still stands, for those from a few seconds before the first launch
/// considered to the last one.
void read_at_rest(std::vector<Reading>& readings, const LaunchModel& model, const LaunchRange& range);

}  // namespace bothways
