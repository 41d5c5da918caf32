#pragma once

#include "bothways/launch/model.hpp"
#include "bothways/numeric/kalman.hpp"

namespace bothways {

/// What a reading near rest, the length of u plus (with two axes) a noise of the same size across, says of
/// u ~ N(mean, variance).
struct LengthPosterior {
  double log_density = 0.0;  ///< of the length, eq. (4.6)
  numeric::Normal part;      ///< moments of u, given the length
};

/// One axis: folded normal. Two: Rice's law; the angle is von Mises with concentration z mean / variance
/// [MJ00].
[[nodiscard]] LengthPosterior length_posterior(double z, const numeric::Normal& u, int axes);

/// log P(the receiver writes 0 | speed): a left-censored reading.
[[nodiscard]] double log_censored(const DeadBand& band, const numeric::Normal& speed_mps);

/// log P(it writes a speed); 0 without a dead band.
[[nodiscard]] double log_not_censored(const DeadBand& band, const numeric::Normal& speed_mps);

/// A length that is rounded may be written as 0, where its density vanishes: at least a quarter of the step.
[[nodiscard]] double not_rounded_away(double z, const LaunchModel& model);

}  // namespace bothways
