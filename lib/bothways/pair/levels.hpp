#pragma once

#include "bothways/pair/combine.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace bothways {

/// One two-way result of a side.
struct Outcome {
  double value = 0.0;        ///< s
  double measurement = 0.0;  ///< its sd, s
  int day = 0;               ///< outcomes of one day share weather and rider
  double shared = 0.0;       ///< part of `measurement` that all outcomes of one log have in common, sd, s
  std::size_t log = 0;
};

/// A side's figure and where its uncertainty comes from, level by level. All sds are of the figure.
struct Leveled {
  double value = 0.0;         ///< mean of the days' means
  Part day;                   ///< scatter of days beyond that of pairs; sd 0 for one day
  Part pair;                  ///< scatter of pairs within a day beyond measurement; sd 0 for one pair a day
  double measurement = 0.0;   ///< sd from measurement alone, but for what the pairs of a log share
  double shared = 0.0;        ///< sd from what they share: more pairs of that log do not lessen it
  Part days_seen;             ///< all that the scatter of the days' means shows; sd 0 for one day
  Part pairs_seen;            ///< all that the scatter within days shows; sd 0 for one pair a day
  double pair_scatter = 0.0;  ///< sd between single pairs of one day, measurement in it; 0 if not known
  double pair_degrees_of_freedom = 0.0;  ///< of pair_scatter; 0: not known
  double scatter_seen = 0.0;             ///< pair_scatter as it came out, by luck below the measurement
  int pairs = 0;
  int days = 0;
};

/// Variance by levels: day, pair, measurement. Each day weighs the same.
/// @param outcomes  (n >= 1)
[[nodiscard]] Leveled leveled(std::span<const Outcome> outcomes);

/// What days, pairs and measurement each show of the uncertainty of a side's figure; for a single pair the
/// measurement with an allowance.
/// @param allowance_s  as in figure_of()
[[nodiscard]] std::vector<Look> looks_of(const Leveled& side, double allowance_s);

/// The figure of one side: the widest of what its days, its pairs and the measurement show, so that it covers
/// at least 95 % whatever the shares of the three (test "the figure of a side holds the truth").
/// @param allowance_s  sd that stands in for the scatter that a single pair cannot show; of no account
///                     beside two pairs or more
[[nodiscard]] Estimate figure_of(const Leveled& side, double allowance_s);

/// after - before. Where both sides were ridden on the same days, each day's difference is the unit, so that
/// what a day does to both drops out; else each side brings the scatter of its own days, and a side of one
/// day that of the other side's.
struct LeveledDifference {
  double value = 0.0;
  std::vector<Look> looks;  ///< the widest holds. One, of day, pair and measurement, with Welch and
                            ///< Satterthwaite within a level; with the same days, what each of them shows
  Part day;                 ///< scatter of days beyond pairs and measurement
};

[[nodiscard]] LeveledDifference leveled_difference(std::span<const Outcome> before,
                                                   std::span<const Outcome> after);

}  // namespace bothways
