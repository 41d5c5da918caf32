#pragma once

#include "bothways/launch/level_crossing.hpp"
#include "bothways/numeric/mixture.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// A time over the paths of a launch posterior, and of which part of what the starts of a log share each is.
struct TimeMixture {
  std::vector<numeric::NormalPart> all;
  std::vector<std::size_t> part;  ///< one each

  /// All that was added since the last call is of this part.
  void close(std::size_t of_part) { part.resize(all.size(), of_part); }
};

/// For each part the square root of its weight times what its mean is off by, eq. (5.5), s.
/// @param mean_s  the mean of the whole, whose weights sum to 1
/// @param parts   how many there are
[[nodiscard]] std::vector<double> shared_errors(const TimeMixture& mixture, double mean_s, std::size_t parts);

/// Sums over paths of what the crossings of a split's marks leave open, eq. (5.7).
struct CrossingUncertainty {
  double to_s2 = 0.0;  ///< weight times variance
  double from_s2 = 0.0;

  void add(double weight, const std::vector<LikelyCrossing>& from, const std::vector<LikelyCrossing>& to);

  /// Split::crossing_shared_s. @param total  weight of all paths, > 0
  [[nodiscard]] std::vector<double> errors(double total) const;
};

}  // namespace bothways
