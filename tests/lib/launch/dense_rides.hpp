#pragma once

#include "lib/launch/dense_launch.hpp"

#include <string>
#include <vector>

namespace bothways {

/// A start whose launches, all but one case's, are followed by surely moving readings only: all is linear and
/// normal, and can be written out.
struct DenseCase {
  std::string name;
  LaunchModel model;
  LaunchWindow window;
  std::vector<WeightedHypothesis> hypotheses;

  [[nodiscard]] DenseLaunch launch(std::size_t hypothesis) const;
  [[nodiscard]] numeric::Normal slow_error(const DenseLaunch& launch, double t0_s) const;
  [[nodiscard]] double log_likelihood_at_rest(const DenseLaunch& launch, double t0_s) const;
};

/// Speeds and positions, with and without smoothing and slow error.
[[nodiscard]] std::vector<DenseCase> dense_cases();

/// @param earlier_s  launches are considered from so long before the first surely moving reading
[[nodiscard]] DenseCase dense_case(const std::string& name, bool positions, double lag_s, double slow_sd,
                                   double earlier_s = 0.099);

}  // namespace bothways
