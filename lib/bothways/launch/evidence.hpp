#pragma once

#include "bothways/launch/hypothesis.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/posterior.hpp"
#include "bothways/launch/window.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// What all starts of a log say of one hypothesis.
struct Evidence {
  double log_evidence = 0.0;  ///< log of the integral of p(readings | t0) over t0, summed over the starts
  /// (starts) where it puts the first foot, plus the lag, by which it puts all later marks earlier, s. Two
  /// hypotheses that differ in this give times from rest that differ as much.
  std::vector<double> clock_s;
};

/// In the order of the hypotheses. Those that are out of reach of the best after some of the starts are not
/// tried on the others: their log evidence is -infinity.
[[nodiscard]] std::vector<Evidence> evidence_of(const std::vector<LaunchHypothesis>& hypotheses,
                                                const LaunchModel& model,
                                                const std::vector<LaunchWindow>& windows,
                                                const LaunchGrid& grid);

/// Posterior model weights, prior times evidence to a tempering exponent, eq. (4.8): the likely hypotheses,
/// the likeliest first, at least one. Where they are more than `most`, so many stand for all (mixture
/// reduction by least loss of spread in the clock start [WARD63]).
[[nodiscard]] std::vector<WeightedHypothesis> weighted_hypotheses(
    const std::vector<LaunchHypothesis>& hypotheses, const std::vector<Evidence>& evidence, std::size_t most);

}  // namespace bothways
