#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace bothways {

/// Which of several looks may be told at a family-wise level, after Holm 1979 [HOLM79].
/// @param p_values  (n) 0..1
/// @return          (n) true where the look is told
[[nodiscard]] std::vector<bool> holm(std::span<const double> p_values, double level);

/// Which splits of one comparison may be told: the main one at `level`; the others by Holm at `level` if the
/// main one is told, else at a fifth of it. Wrong word on any split where nothing changed: at most 1.2
/// `level`.
[[nodiscard]] std::vector<bool> told(std::span<const double> p_values, std::size_t main, double level);

}  // namespace bothways
