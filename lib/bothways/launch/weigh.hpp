#pragma once

#include "bothways/launch/model.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// One way in which the vehicles of a log may get away from rest, and how likely it is given all starts.
struct LaunchGuess {
  LaunchShape shape;
  double lag_s = 0.0;         ///< smoothing inside the receiver
  double early_factor = 1.0;  ///< jerk factor until about 2 m/s
  double foot_s = 0.4;  ///< from first movement to the first foot: by its shape, else by full acceleration
  double weight = 1.0;  ///< sums to 1 over the guesses kept; with that of those it stands for
  double likelihood = 1.0;  ///< its own weight
  /// For each start: where it puts the first foot, plus the lag, by which it puts all later marks earlier.
  /// Two guesses that differ in this give times from rest that differ as much.
  std::vector<double> begin_s;
};

/// Without a shape at several roughnesses, and with each of some shapes; for each lag.
[[nodiscard]] std::vector<LaunchGuess> all_guesses(const std::vector<double>& lags_s,
                                                   const std::vector<LaunchShape>& shapes);

/// Guesses weighed by how likely all the starts are under each (docs/method.md, eq. (4.3)); the likely ones,
/// best first, at least one. Where they are more than `most`, so many stand for all.
[[nodiscard]] std::vector<LaunchGuess> weigh(const LaunchModel& model, std::vector<LaunchGuess> guesses,
                                             const std::vector<LaunchWindow*>& windows, std::size_t most,
                                             const LaunchGrid& grid);

/// Sets the jerk factor of the launch in a window's readings.
void set_early_factor(LaunchWindow& window, double factor);

}  // namespace bothways
