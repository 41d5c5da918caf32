#pragma once

#include "bothways/core/estimate.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <vector>

namespace bothways {

/// Errors of estimates beside what they say of themselves.
struct Tally {
  std::size_t n = 0;
  std::size_t held = 0;           ///< 95 % intervals that hold the truth
  double errors = 0.0;            ///< sum
  double squares = 0.0;           ///< of the errors, sum
  std::vector<double> z_squares;  ///< (error / sd)^2 of each

  void add(const Estimate& found, double truth) {
    const double error = found.value - truth;
    ++n;
    held += found.lo95 <= truth && truth <= found.hi95 ? 1U : 0U;
    errors += error;
    squares += error * error;
    z_squares.push_back(error * error / (found.sd * found.sd));
  }

  [[nodiscard]] double share() const { return static_cast<double>(held) / static_cast<double>(n); }
  [[nodiscard]] double rms() const { return std::sqrt(squares / static_cast<double>(n)); }
  [[nodiscard]] double bias() const { return errors / static_cast<double>(n); }
  /// Mean of (error / sd)^2: 1 is right, 0.25 an sd of twice its size, 4 one of half. Bounds it from both
  /// sides, where a share that holds is bounded from below only.
  [[nodiscard]] double mean_square_z() const {
    return std::accumulate(z_squares.begin(), z_squares.end(), 0.0) / static_cast<double>(n);
  }
  /// The same from the median, which a few odd errors do not move: over that of chi-square with one degree of
  /// freedom.
  [[nodiscard]] double median_square_z() const {
    std::vector<double> sorted = z_squares;
    std::sort(sorted.begin(), sorted.end());
    return sorted[sorted.size() / 2] / 0.4549364;
  }
};

}  // namespace bothways
