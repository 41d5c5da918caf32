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

/// True if all four figures are finite: only then may an estimate be written.
[[nodiscard]] bool is_printable(const Estimate& estimate);

/// Decimals that a half-interval bears, after [GUM] 7.2.6 (at most two significant digits): two digits if it
/// starts with 1 or 2, else one; at least 0, at most machine_decimals.
[[nodiscard]] int decimals_for(double half_interval);

/// An estimate as people read it.
struct Shown {
  std::string value;  ///< "5.12"
  std::string half;   ///< "0.03": the longer arm of the 95 % interval, same decimals
};

/// Rounds to machine_decimals, then to what the interval bears.
[[nodiscard]] Shown shown(const Estimate& estimate);

/// "5.12 ± 0.03"
[[nodiscard]] std::string plus_minus(const Estimate& estimate);

/// A figure without its own interval, rounded like the estimate it stands beside: "4.98".
[[nodiscard]] std::string shown_like(double value, const Estimate& beside);

}  // namespace bothways
