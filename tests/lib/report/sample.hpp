#pragma once

#include "bothways/report/result.hpp"

#include <limits>

inline constexpr double nan_value = std::numeric_limits<double>::quiet_NaN();
inline constexpr double infinite = std::numeric_limits<double>::infinity();

/// An invented result: two logs, three runs, one pair, starts left out, notes.
/// Speeds and places are made up; nothing here was measured.
[[nodiscard]] bothways::Result sample_result();

/// A log of `n` fixes a second apart, made up.
[[nodiscard]] bothways::Log sample_log(int n);
