#pragma once

#include "bothways/core/rounding.hpp"

#include <span>
#include <string>

namespace bothways {

/// True if all four figures are finite: only then may an estimate be written.
[[nodiscard]] bool is_printable(const Estimate& estimate);

/// An estimate as people read it.
struct Shown {
  std::string value;  ///< "5.12"
  std::string half;   ///< "0.03": the longer arm of the 95 % interval, same decimals
};

/// Rounds to machine_decimals, then to what the interval bears.
[[nodiscard]] Shown shown(const Estimate& estimate);

/// Decimals for a column of estimates, alike for all of them: as many as the widest interval bears, and as
/// the narrowest needs to be more than zero. What is not finite counts for nothing; 0 for none.
[[nodiscard]] int common_decimals(std::span<const Estimate> column);

/// The same for times that stand beside their differences: no fewer than a difference has, for -0.17 is not
/// what 4.1 is less 4.2.
[[nodiscard]] int common_decimals(std::span<const Estimate> column, std::span<const Estimate> differences);

/// With so many decimals.
[[nodiscard]] Shown shown(const Estimate& estimate, int decimals);
[[nodiscard]] std::string plus_minus(const Estimate& estimate, int decimals);

/// "5.12 ± 0.03"; "0.3 to 5.9" of what is above zero for sure, where the longer arm would reach below it.
[[nodiscard]] std::string plus_minus(const Estimate& estimate);

/// "-0.24 ± 0.13", "+0.02 ± 0.13": a difference, with the decimals that its sentence has.
[[nodiscard]] std::string signed_plus_minus(const Estimate& difference);

/// A figure without its own interval, rounded like the estimate it stands beside: "4.98".
[[nodiscard]] std::string shown_like(double value, const Estimate& beside);

}  // namespace bothways
