// docs/method.md, eq. (5.5): w_g = weight, w_g (T_g - T) = off.
#include "bothways/run/shared_errors.hpp"

#include <cmath>

namespace bothways {

std::vector<double> shared_errors(const TimeMixture& mixture, double mean_s, std::size_t parts) {
  std::vector<double> weight(parts, 0.0);
  std::vector<double> off(parts, 0.0);
  for (std::size_t i = 0; i < mixture.all.size(); ++i) {
    weight[mixture.part[i]] += mixture.all[i].weight;
    off[mixture.part[i]] += mixture.all[i].weight * (mixture.all[i].mean - mean_s);
  }
  for (std::size_t k = 0; k < parts; ++k) {
    off[k] = weight[k] > 0.0 ? off[k] / std::sqrt(weight[k]) : 0.0;
  }
  return off;
}

}  // namespace bothways
