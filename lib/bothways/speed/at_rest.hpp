#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// How much readings some time apart are alike.
struct Likeness {
  double apart_s = 0.0;
  double correlation = 0.0;
  double pairs = 0.0;
};

/// What the readings at rest of a log have in common.
struct Standing {
  std::size_t count = 0;
  std::size_t zeros = 0;
  double mean = 0.0;
  double mean_square = 0.0;
  double neighbour = 0.0;          ///< correlation of squares of neighbours, 0..1; below 0: unknown
  std::vector<Likeness> likeness;  ///< of squares some time apart
};

/// Looks at the quiet stops, 2 s or longer, of a log.
/// @param limit_mps  a stop is a stretch of readings below it
/// @param dt_s       usual time between readings
[[nodiscard]] Standing look_at_rest(const std::vector<Stretch>& stretches, double limit_mps, double dt_s);

/// The likeliest time T of the slow error, 1 to 15 s, held near the usual one: squares of readings dt apart
/// are alike by share^2 exp(-2 dt / T) (docs/method.md, section 1).
[[nodiscard]] double likeliest_slow_time_s(const std::vector<Likeness>& likeness, double usual_s);

}  // namespace bothways
