#pragma once

#include <vector>

namespace bothways::numeric {

struct NormalPart {
  double weight = 0.0;  ///< >= 0; the sum over a mixture is 1
  double mean = 0.0;
  double variance = 0.0;  ///< >= 0
};

using Mixture = std::vector<NormalPart>;

/// Divides the weights by their total, > 0.
void normalise(Mixture& mixture, double total);

struct MixtureSummary {
  double mean = 0.0;
  double sd = 0.0;
  double lo95 = 0.0;  ///< 2.5 % quantile, or as `level` asks
  double hi95 = 0.0;  ///< 97.5 % quantile, likewise
};

/// Mean and sd only: cheap. Empty mixture: all zero.
[[nodiscard]] MixtureSummary mean_and_sd(const std::vector<NormalPart>& mixture);

/// Mean, sd and the central 1 - level of a mixture of normals, widened to hold the mean where that lies
/// outside. Empty mixture: all zero.
[[nodiscard]] MixtureSummary summarise(const std::vector<NormalPart>& mixture, double level = 0.05);

}  // namespace bothways::numeric
