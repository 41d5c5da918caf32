#pragma once

#include "bothways/core/estimate.hpp"

#include <string>

namespace bothways {

// The one place that rounds. Machine formats (CSV, JSON) carry thousandths; text for people rounds those
// further, to the digits that the interval bears, so all formats carry the same numbers.

/// Decimals of every measured time in CSV and JSON: a thousandth of a second, never more.
inline constexpr int machine_decimals = 3;

/// Nearest double to `value` rounded to `decimals` (0..12), half to even on the exact binary value.
/// Never -0. @throws std::invalid_argument  if value is not finite.
[[nodiscard]] double rounded(double value, int decimals);

/// `value` with exactly `decimals` digits after the point, locale-free: "5.10". Never "-0.00".
/// @throws std::invalid_argument  if value is not finite.
[[nodiscard]] std::string fixed(double value, int decimals);

/// All four figures rounded to machine_decimals; an sd above 0 stays above 0.
[[nodiscard]] Estimate rounded(const Estimate& estimate);

/// Decimals that a half-interval bears, after [GUM] 7.2.6 (at most two significant digits): two digits if it
/// starts with 1 or 2, else one; at least 0, at most machine_decimals.
[[nodiscard]] int decimals_for(double half_interval);

/// The same for an estimate that has been rounded: by the longer arm of its interval.
[[nodiscard]] int decimals_for(const Estimate& rounded);

/// Decimals of a difference that has been rounded: as many more, up to machine_decimals, as keep the end next
/// to zero from reading as zero where the interval leaves zero out.
[[nodiscard]] int difference_decimals(const Estimate& rounded);

}  // namespace bothways
