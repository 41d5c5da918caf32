#pragma once

#include "bothways/pair/scatter.hpp"

#include <array>
#include <cstddef>
#include <span>
#include <vector>

namespace bothways {

/// One two-way result as the mixed model takes it (docs/method.md, eq. (7.1)).
struct Outcome {
  double value = 0.0;    ///< s
  double own_sd = 0.0;   ///< s, of errors that no other outcome shares: the receiver's
  int count = 1;         ///< results that it stands for, all of one own_sd, log and block
  double squares = 0.0;  ///< s^2, sum of their squared distances from `value`, their mean
  double log_sd = 0.0;   ///< s, of the error that all outcomes of its log share: the launch and the receiver
  double receiver_sd = 0.0;  ///< s, of what all outcomes of a side share; it is no part of the model itself
  double visit_sd = 0.0;     ///< s, of what all outcomes of its side and day share: the wind's square
  double day_sd = 0.0;       ///< s, of the same as far as both sides of a day share it
  int side = 0;              ///< 0, or 1 where two sides are compared
  int day = 0;
  std::size_t log = 0;
  int block = 0;  ///< pairs ridden one after the other with one set-up; unique over all outcomes
};

/// Outcomes in their nest: day, log, block. Sorted once, walked for every node of the grid.
struct Nest {
  int sides = 1;
  double centre = 0.0;
  std::vector<Outcome> outcomes;  // sorted by day, log, block; values less the centre
};

/// @param outcomes  (n >= 1) with n_sides sides, each with one outcome at least
/// @throws std::invalid_argument  if there is no outcome, a side has none, or a figure is not finite.
[[nodiscard]] Nest nest_of(std::span<const Outcome> outcomes, int sides);

/// Root mean square distance of the outcomes from their mean, s.
[[nodiscard]] double spread_of(const Nest& nest);

/// The sides' figures at given scatters, and the log of their likelihood with mu integrated out.
struct Solved {
  std::array<double, 2> mean{};
  std::array<std::array<double, 2>, 2> covariance{};
  double log_likelihood = 0.0;
};

/// Scatters of each level to be tried with all of the others, s.
struct ScatterValues {
  std::vector<double> pair_s;
  std::vector<double> block_s;
  std::vector<double> day_s;
};

/// Pairs, blocks, logs and days integrated out in turn, eq. (7.2), then mu.
/// @return for each pair_s each block_s each day_s. What lies within a level is worked out once for all
/// outside.
[[nodiscard]] std::vector<Solved> solve(const Nest& nest, const ScatterValues& scatters);
[[nodiscard]] Solved solve(const Nest& nest, const Scatters& scatter);

}  // namespace bothways
