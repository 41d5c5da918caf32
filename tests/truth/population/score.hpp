#pragma once

#include "truth/population/figure.hpp"

#include <array>
#include <cstddef>
#include <functional>
#include <utility>
#include <vector>

namespace bothways::population {

/// A share of figures that come in clusters (rides), with an interval that knows it.
struct Share {
  std::size_t hits = 0;
  std::size_t n = 0;
  std::size_t clusters = 0;
  double value = 0.0;
  double lo99 = 0.0;
  double hi99 = 1.0;
};

/// Wilson's 99 % score interval for n divided by the design effect: the variance of the share between
/// clusters (sandwich) over that of independent figures, 1 at least. Two more clusters, one all hits and one
/// none, keep it cautious where misses are few (test "the clustered 99 % interval of a share holds it in 99
/// of 100").
/// @param hits_of  hits and figures of each cluster
[[nodiscard]] Share share_of(const std::vector<std::pair<std::size_t, std::size_t>>& hits_of);

/// How good many figures are, in s where not said otherwise.
struct Summary {
  Share held;           ///< intervals that hold the truth
  double bias = 0.0;    ///< mean of found - true
  double median = 0.0;  ///< of its size
  double rms = 0.0;
  double mean_square = 0.0;  ///< of error over stated sd: 1 is right
  double half_width = 0.0;   ///< mean of half the interval
  double score = 0.0;        ///< mean interval score: width, and 40 times what the truth lies outside
  std::array<std::size_t, 10> pit{};  ///< figures by probability integral transform, in tenths
  std::size_t broken = 0;  ///< not finite, or a value outside its own interval; in none of the above
};

/// Width plus (2 / 0.05) times the distance by which the truth lies outside: small is good, and no interval
/// gains by saying other than it believes.
[[nodiscard]] double interval_score(const Estimate& found, double true_s);
/// Where the truth lies in the law that the figure states, 0..1. Its two halves are taken as normal, with the
/// stated value in the middle and the ends of the interval as quantiles.
[[nodiscard]] double pit(const Estimate& found, double true_s);

using Wanted = std::function<bool(const Judged&, const Figure&)>;

/// All figures of these rides that are wanted; a ride is a cluster.
[[nodiscard]] Summary summary_of(const std::vector<Judged>& rides, const Wanted& wanted);

/// Other starts taken for runs, and other starts, of a ride.
[[nodiscard]] std::pair<int, int> taken_of_others(const Judged& ride);

/// A share with one count of hits and figures for each ride.
[[nodiscard]] Share share_of(const std::vector<Judged>& rides,
                             const std::function<std::pair<int, int>(const Judged&)>& count);

}  // namespace bothways::population
