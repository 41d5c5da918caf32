#pragma once

#include "bothways/core/geodesy.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/run/run.hpp"

#include <span>
#include <vector>

namespace bothways {

/// How a two-way time hangs on the slope along the road: dT = sum over places of weight . gradient. A steady
/// slope has weights that cancel; one that changes along the road does not.
struct SlopeWeights {
  struct Place {
    PlanePoint at;         ///< m
    double east_s = 0.0;   ///< s for a slope of 1 (rise over run) towards the east
    double north_s = 0.0;  ///< towards the north
  };
  std::vector<Place> places;  ///< some hundreds at most: neighbours are merged where there are more
};

/// Adds share times what one pair's split hangs on, eq. (6.7).
void add_slope_weights(SlopeWeights& to, double share, std::span<const SensitiveBand> bands, const Run& out,
                       const Run& back, const LocalPlane& plane);

/// Covariance of two such times over roads as they are built, s^2: the slope about its mean has an sd of
/// 0.5 % and a correlation of exp(-d / 150 m) over a distance d. [GTR15] and [EU2006] ask 0.5 and 1 % of a
/// test road; that figure for a road nobody has tested is common practice, no source.
[[nodiscard]] double slope_covariance_s2(const SlopeWeights& a, const SlopeWeights& b);

/// The variance of one.
[[nodiscard]] double slope_variance_s2(const SlopeWeights& weights);

/// The variance of one less another, on a road twice as rough: where the two began at one place nearly all of
/// it drops out, and where they did not a rider acts on a word that hangs on slopes which nobody knows.
[[nodiscard]] double slope_difference_variance_s2(const SlopeWeights& a, const SlopeWeights& b);

/// Of the slope itself between two points of a road, both along one direction.
[[nodiscard]] double slope_correlation(double apart_m);

}  // namespace bothways
