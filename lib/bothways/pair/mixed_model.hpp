#pragma once

#include "bothways/pair/nested_effects.hpp"

#include <array>
#include <span>
#include <vector>

namespace bothways {

/// A linear combination of the sides' figures: {1, 0} is the first side, {-1, 1} after less before.
using Contrast = std::array<double, 2>;

/// Posterior of the sides' figures: a mixture of normals over a grid of scatters.
struct MixedPosterior {
  struct Node {
    double weight = 0.0;  ///< the sum is 1
    Scatters scatter;
    std::array<double, 2> mean{};                       ///< s, of each side; 0 where there is no second
    std::array<std::array<double, 2>, 2> covariance{};  ///< s^2
  };
  std::vector<Node> nodes;
  Scatters rms;  ///< root of the posterior mean square of each scatter
};

/// Mean and variance of a contrast at one node, s and s^2.
[[nodiscard]] double mean_of(const MixedPosterior::Node& node, const Contrast& contrast);
[[nodiscard]] double variance_of(const MixedPosterior::Node& node, const Contrast& contrast);

/// x = X mu + day + visit + log + block + pair + own, all normal with mean 0, mu flat, scatters with half-t
/// priors: eqs. (7.1) to (7.3). Costs n times some 3000 nodes.
/// @param outcomes  (n >= 1) with n_sides sides, each with one outcome at least
/// @throws std::invalid_argument  if there is no outcome, a side has none, or a figure is not finite.
[[nodiscard]] MixedPosterior mixed_posterior(std::span<const Outcome> outcomes, const ScatterPrior& prior,
                                             int sides = 1);

}  // namespace bothways
