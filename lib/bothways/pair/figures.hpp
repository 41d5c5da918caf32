#pragma once

#include "bothways/pair/mixed_model.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/pair/slope.hpp"
#include "bothways/run/ride.hpp"

#include <span>
#include <vector>

namespace bothways {

/// One side's two-way results of one split, and what the mixed model needs beside them.
struct SideResults {
  std::vector<Outcome> outcomes;
  ScatterPrior prior;  ///< means over the outcomes
  SlopeWeights slope;  ///< of their mean
  double drive_s = 0.0;
};

/// The results of a split. Those of a log share a part of the receiver's error (docs/method.md, "Overall");
/// of what the wind's square leaves half is taken to be shared by both sides of a day.
/// @param pairs  made; days (pairs) the day of each
/// @param side   0 or 1: where it stands in a comparison
/// @param origin of the plane that places are told in, the same for both sides
[[nodiscard]] SideResults results_of(const std::vector<Ride>& rides, std::span<const Pair> pairs,
                                     std::span<const int> days, const SplitSpec& spec, Clock clock, int side,
                                     const LocalPlane& plane);

/// A plane about the first pair's start, for results_of().
[[nodiscard]] LocalPlane plane_of(const std::vector<Ride>& rides, std::span<const Pair> pairs);

/// A figure of the mixed model.
struct Figure {
  Estimate estimate;  ///< s
  Budget budget;
  double p_value = 1.0;  ///< level at which the interval just reaches zero
  Scatters scatter;      ///< root mean squares
};

/// One side's results, and the posterior of the model for it alone: most of the work on a figure.
struct SidePosterior {
  SideResults results;
  MixedPosterior posterior;
};

/// @param results  of the first side; at least one
[[nodiscard]] SidePosterior posterior_of(SideResults results);

/// The figure of one side. @param slope_s2  slope_variance_s2() of its slope
[[nodiscard]] Figure figure_of(const SidePosterior& side, double slope_s2);

/// The same of either side.
[[nodiscard]] Figure figure_of(const SideResults& side);

/// After less before, of one model: scatters are those of both sides together, and what a day or a road does
/// to both drops out.
[[nodiscard]] Figure difference_of(const SideResults& before, const SideResults& after);

/// Half of the interval, of 1 - level, that the difference of two sides with these results has.
[[nodiscard]] double half_width_of(std::span<const Outcome> outcomes, const ScatterPrior& prior,
                                   double level);

/// Scales of the half-t priors, s: of pairs 1.1 % of drive, launches of 0.02 s, and gusts; of blocks 0.3 % of
/// drive; of days 0.45 %. From the population of simulated rides (tests/truth/population, docs/accuracy.md).
/// @param drive_s  time that a change of the whole drive is worth, TwoWay::drive_s
[[nodiscard]] ScatterPrior scatter_prior(double drive_s, double gust_s, bool from_rest);

}  // namespace bothways
