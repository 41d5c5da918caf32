#pragma once

#include "bothways/launch/model.hpp"
#include "bothways/numeric/kalman.hpp"

namespace bothways {

/// What a reading near rest says of its part u along the road. A reading is a length: |u| where the receiver
/// writes the speed along the road (one axis), sqrt(u^2 + c^2) with the noise c across it (two). u is the
/// signal and noise; c is noise.
struct LengthPosterior {
  double log_density = 0.0;  ///< of the length, eq. (4.6)
  numeric::Normal part;      ///< moments of u, given the length
};

/// What is expected of a reading near rest.
struct ExpectedLength {
  numeric::Normal u;             ///< along the road, all noise included; variance > 0
  numeric::Normal speed;         ///< the part of u that moves forward only: its normal law is cut off below 0
  double across_variance = 1.0;  ///< of the noise across, > 0; not used with one axis
};

/// One axis: the sum of both signs, a folded normal law. Two: the integral over the direction of the vector,
/// by the periodic trapezoid; Rice's law [MJ00] where the speed is known and both axes have the same noise.
/// @param z  length, > 0
[[nodiscard]] LengthPosterior length_posterior(double z, const ExpectedLength& expected, int axes);

/// The same of a length that was written in steps: the mean density of all lengths that round to it, so that
/// times the step it is their probability (docs/method.md, "Near rest").
/// @param z     written length, >= 0
/// @param step  > 0
[[nodiscard]] LengthPosterior rounded_length_posterior(double z, double step, const ExpectedLength& expected,
                                                       int axes);

/// The written length z by whichever of the two the model asks for.
[[nodiscard]] LengthPosterior written_length_posterior(double z, const ExpectedLength& expected,
                                                       const LaunchModel& model);

/// Variance of white noise and rounding that is left where rounding is taken by itself.
[[nodiscard]] double without_rounding(double variance, const LaunchModel& model);

/// log P(the receiver writes 0 | speed): a left-censored reading, eq. (4.7).
[[nodiscard]] double log_censored(const DeadBand& band, const numeric::Normal& speed_mps);

/// log P(it writes a speed); 0 without a dead band.
[[nodiscard]] double log_not_censored(const DeadBand& band, const numeric::Normal& speed_mps);

/// A length that is rounded may be written as 0, where its density vanishes: at least a quarter of the step.
[[nodiscard]] double not_rounded_away(double z, const LaunchModel& model);

}  // namespace bothways
