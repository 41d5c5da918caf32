#pragma once

#include "bothways/core/estimate.hpp"

#include <limits>
#include <span>
#include <vector>

namespace bothways {

/// One independent contribution to an uncertainty: its sd and how well that sd is known.
struct Part {
  double sd = 0.0;                                                      ///< >= 0, in the unit of the result
  double degrees_of_freedom = std::numeric_limits<double>::infinity();  ///< > 0
};

/// Root sum of squares, with the effective degrees of freedom of Welch and Satterthwaite.
/// Nothing is rounded on the way. Source: [GUM] 5.1.2 and G.4.1 (tests "the end gauge of the guide", "the
/// product of three").
/// @return  infinite degrees of freedom where no part has finite ones.
[[nodiscard]] Part combine(std::span<const Part> parts);

/// A figure whose uncertainty has parts that are known more or less well: scatter seen in a few repeats, and
/// measurement.
///
/// Each part keeps its own 95 % factor (Student, by its degrees of freedom), and the half-widths add in
/// quadrature. So the interval is never narrower than the measurement alone, and is Student's (or Welch's)
/// where one part outweighs the rest (docs/decisions/0010-scatter-and-measurement.md).
/// @param parts  independent; sd >= 0, degrees of freedom > 0
[[nodiscard]] Estimate estimate_of(double value, std::span<const Part> parts);

/// The level at which that interval just reaches zero: two-sided, 0..1. 1 where value is 0; 0 where it is not
/// and there is no uncertainty at all.
[[nodiscard]] double p_value_of(double value, std::span<const Part> parts);

/// One way of seeing the uncertainty of a figure: parts that add.
using Look = std::vector<Part>;

/// The same figure with its uncertainty seen in several ways, of which none may be lost: the interval is the
/// widest of theirs, the sd the largest. Covers at least 95 % where one of them sees all there is
/// (docs/decisions/0010-scatter-and-measurement.md).
/// @param looks  (n >= 1) of parts with sd >= 0, degrees of freedom > 0
/// @throws std::invalid_argument  if a figure is not finite.
[[nodiscard]] Estimate widest_of(double value, std::span<const Look> looks);

/// The level at which the widest of those intervals just reaches zero: the largest p-value of the looks.
[[nodiscard]] double largest_p_value_of(double value, std::span<const Look> looks);

/// Degrees of freedom of the look with the widest interval.
[[nodiscard]] double degrees_of_freedom_of(std::span<const Look> looks);

/// A mean of repeated results, each with a measurement uncertainty of its own.
struct MeanOf {
  double value = 0.0;
  double scatter = 0.0;      ///< sd between the results, n - 1; 0 for one result
  Part beyond;               ///< of the mean: scatter beyond measurement, n - 1; sd 0 for one result
  double measurement = 0.0;  ///< of the mean: sd from measurement alone
  Estimate estimate;         ///< of the mean
};

/// Plain mean of n >= 1 results; one result carries its measurement uncertainty only.
///
/// The interval is the wider of Student's (n - 1) from the scatter, which holds the measurement errors
/// already, and the normal one of the measurement: it covers at least 95 % whatever their ratio, and the
/// measurement part is never lost (docs/decisions/0010-scatter-and-measurement.md; test "the interval of a
/// mean holds the truth").
/// @param values           (n) finite
/// @param measurement_sds  (n) >= 0
/// @throws std::invalid_argument  if n = 0, lengths differ, or a figure is not finite.
[[nodiscard]] MeanOf mean_of(std::span<const double> values, std::span<const double> measurement_sds);

}  // namespace bothways
