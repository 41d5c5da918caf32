#pragma once

#include "bothways/pair/plan.hpp"
#include "bothways/pair/scatter.hpp"

#include <vector>

namespace bothways {

/// How the two sides of a comparison are ridden.
enum class Ridden {
  blocks,   ///< one day, one side after the other
  turns,    ///< one day, a pair of each side in turns
  two_days  ///< each side on a day of its own
};

/// What two-way results of one set-up are made of, sds in s: what a plan rests on.
struct PlanBasis {
  double own_s = 0.0;        ///< receiver, each pair's own
  double log_s = 0.0;        ///< receiver and launch, shared by a log
  double wind_s = 0.0;       ///< what the wind's square leaves
  Scatters scatter;          ///< as it is thought to be
  ScatterPrior prior;        ///< that compare() will take
  double error_share = 1.0;  ///< of the sd stated, what the errors of differences amount to
  int pairs = 0;             ///< that showed it; 0: none has the split, and nothing else here means anything
  int setups = 1;            ///< that the conditions name: each taken by itself
  bool assumed = false;      ///< a single pair shows no scatter: the prior stands in
};

/// sd of a single two-way result about the mean of its day and set-up, s.
[[nodiscard]] double scatter_s(const PlanBasis& basis);

/// How well n pairs a side tell: half-widths of compare()'s interval, over what the scatter may look like by
/// luck, and the sd of its error.
struct Telling {
  int pairs = 0;
  double sd_s = 0.0;
  std::vector<double> half_s;  ///< equally likely
};

/// By compare()'s own mixed model, on results placed as chi-square quantiles of the scatter have them.
/// @param pairs  a side, >= 1
[[nodiscard]] Telling telling_of(const PlanBasis& basis, int pairs, Ridden ridden, double level = 0.05);

/// Chance that a difference of this size is told.
[[nodiscard]] double power_of(const Telling& telling, double difference_s);

/// Smallest difference told with this chance, s.
[[nodiscard]] double difference_told(const Telling& telling, double power);

/// Fewest pairs a side that tell the difference with options.power; Plan::pairs 0 where 32 would not.
/// @throws std::invalid_argument  if an argument is out of its range.
[[nodiscard]] Plan plan_pairs(double difference_s, const PlanBasis& basis, Ridden ridden,
                              const PlanOptions& options = {});

}  // namespace bothways
