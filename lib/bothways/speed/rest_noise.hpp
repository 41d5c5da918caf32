#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// Correlation of the squares of readings at rest some time apart.
struct Correlation {
  double apart_s = 0.0;
  double coefficient = 0.0;
  double pairs = 0.0;  ///< of readings
};

/// Moments of the readings at rest of a log.
struct RestNoise {
  std::size_t samples = 0;
  std::size_t zeros = 0;
  double mean = 0.0;
  double mean_square = 0.0;
  double neighbour = 0.0;  ///< correlation of squares of neighbours, 0..1; below 0: unknown
  std::vector<Correlation> correlations;
  std::vector<std::size_t> steps;  ///< (k) readings of k steps of the written speed; empty without a step
  bool is_coarse = false;          ///< the step is large beside the readings: rounding makes their law
};

/// Estimates them from the quiet stops, 2 s or longer, of a log.
/// @param limit_mps  a stop is a stretch of readings below it
/// @param dt_s       usual time between readings
/// @param step_mps   of the written speed; 0: none is known
[[nodiscard]] RestNoise noise_at_rest(const std::vector<Stretch>& stretches, double limit_mps, double dt_s,
                                      double step_mps = 0.0);

/// The likeliest correlation time T of the slow error, 1 to 15 s, with a prior about the usual one: squares
/// of readings dt apart correlate by share^2 exp(-2 dt / T) (docs/method.md, section 1).
[[nodiscard]] double correlation_time_s(const std::vector<Correlation>& correlations, double usual_s);

}  // namespace bothways
