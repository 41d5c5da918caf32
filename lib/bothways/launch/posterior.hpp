#pragma once

// The stage launch/ says what the readings round one standing start tell of its motion: smoothed paths, mixed
// over the likely launch instants and over candidate models of how a vehicle gets away and how its receiver
// smooths.

#include "bothways/launch/hypothesis.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/path.hpp"
#include "bothways/launch/window.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// How finely launch instants are tried: coarse over the whole range, then fine where the weight is.
struct LaunchGrid {
  int coarse = 14;
  int fine = 7;  ///< 0: the coarse ones alone
};

/// Posterior of the launch instant under one hypothesis, over a grid of instants that are equally likely
/// before any reading.
struct InstantPosterior {
  std::vector<double> t0_s;
  std::vector<double> weight;  ///< sums to 1
  double spacing_s = 0.0;
  double log_evidence = 0.0;  ///< log of the integral of p(readings | t0) over t0

  [[nodiscard]] double mean_s() const;
};

/// For each of several hypotheses. Neighbours in the list that differ by shape alone share their work.
[[nodiscard]] std::vector<InstantPosterior> instant_posteriors(
    const LaunchWindow& window, const LaunchModel& model, const std::vector<LaunchHypothesis>& hypotheses,
    const LaunchGrid& grid = {});

/// Posterior of one launch: smoothed paths, mixed over the likely instants and hypotheses (docs/method.md,
/// "The launch posterior").
struct LaunchPosterior {
  std::vector<SmoothedPath> paths;  ///< weights sum to 1, those left out included; the likeliest first
  double unseen_creep_s = 0.0;      ///< of the model
  double movement_sd_s = 0.0;       ///< of the model
  std::size_t parts = 1;            ///< of what the starts of a log share; each path is of one
};

/// Lighter paths, weight of the hypothesis times that of the launch instant, have no part in the posterior.
inline constexpr double least_path_weight = 4e-3;

/// The posterior of one start.
/// @param hypotheses  with their posterior weights, the likeliest first
[[nodiscard]] LaunchPosterior launch_posterior(const LaunchWindow& window, const LaunchModel& model,
                                               const std::vector<WeightedHypothesis>& hypotheses,
                                               const LaunchGrid& grid = {});

/// The smoothed path of the likeliest launch instant alone.
[[nodiscard]] SmoothedPath likeliest_path(const LaunchWindow& window, const LaunchModel& model,
                                          const LaunchHypothesis& hypothesis, const LaunchGrid& grid);

}  // namespace bothways
