#pragma once

#include "bothways/launch/launch.hpp"

namespace bothways {

/// What a length of u plus (with two axes) a noise of the same size across says of u ~ N(mean, variance).
struct LengthSays {
  double log_density = 0.0;  ///< of the length
  double mean = 0.0;         ///< of u, given the length
  double variance = 0.0;     ///< of u, given the length
};

/// One axis: folded normal. Two: Rice's law; the angle is von Mises with concentration z mean / variance
/// [MJ00].
[[nodiscard]] LengthSays length_says(double z, double mean, double variance, int axes);

/// log of the normal density.
[[nodiscard]] double log_normal(double off, double variance);

/// log P(the receiver writes 0 | speed ~ N(v, sd)).
[[nodiscard]] double log_held(const ZeroHold& hold, double v_mps, double sd_mps);

/// log P(it writes a speed); 0 if it never holds zero.
[[nodiscard]] double log_not_held(const ZeroHold& hold, double v_mps, double sd_mps);

/// A length that is rounded may be written as 0, where its density vanishes: at least a quarter of the step.
[[nodiscard]] double not_rounded_away(double z, const LaunchModel& model);

}  // namespace bothways
