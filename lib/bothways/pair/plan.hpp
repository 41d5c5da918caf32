#pragma once

#include <string>
#include <vector>

namespace bothways {

/// What a plan is asked for.
struct PlanOptions {
  double level = 0.05;    ///< chance to see a difference where there is none, 0..0.5
  double power = 0.8;     ///< chance to see the difference where there is one, above level, below 1
  bool two_sided = true;  ///< quicker or slower; false: one direction only
  bool two_sides = true;  ///< before against after, n pairs each; false: n differences against zero
};

/// Chance that n pairs a side tell a difference.
///
/// Student's t test with the noncentral t distribution of Boost.Math; both tails where two-sided.
/// @param effect  difference in units of the sd between pairs, >= 0
/// @param n       pairs a side, > 1; need not be whole
/// @throws std::invalid_argument  if an argument is out of its range.
/// Published sample sizes: test "sample sizes agree with published ones" [COHEN88].
[[nodiscard]] double power_of(double effect, double n, const PlanOptions& options = {});

/// Pairs a side that give the power asked; at least 2 and not rounded.
/// @param effect  difference in units of the sd between pairs, > 0
/// @return  infinity where more than a million would be needed.
[[nodiscard]] double pairs_needed(double effect, const PlanOptions& options = {});

/// Smallest difference, in units of the sd between pairs, that n pairs a side show with the power asked. n
/// >= 2.
[[nodiscard]] double effect_seen(double n, const PlanOptions& options = {});

/// How many pairs a side show a difference.
struct Plan {
  double difference_s = 0.0;  ///< to be seen, s
  double scatter_s = 0.0;     ///< sd between pairs, measurement in it, s
  int pairs = 0;              ///< a side; 0: more than a million
  double power = 0.0;         ///< with that many
  std::string text;           ///< one sentence
};

/// @param difference_s  > 0
/// @param scatter_s     >= 0; sd between two-way results of one set-up
/// @throws std::invalid_argument  if an argument is out of its range.
[[nodiscard]] Plan plan_pairs(double difference_s, double scatter_s, const PlanOptions& options = {});

/// How to ride so many pairs a side, a sentence a step: what keeps the two sides alike. Common practice, no
/// source.
/// @param pairs  a side, >= 1
[[nodiscard]] std::vector<std::string> ride_plan(int pairs);

}  // namespace bothways
