#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace bothways::numeric {

double quantile(std::vector<double> values, double p) {
  if (values.empty()) {
    return 0.0;
  }
  const double place = p * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const auto nth = values.begin() + static_cast<std::ptrdiff_t>(below);
  std::nth_element(values.begin(), nth, values.end());
  const double lower = *nth;
  if (below + 1 >= values.size()) {
    return lower;
  }
  const double upper = *std::min_element(nth + 1, values.end());
  return lower + (place - static_cast<double>(below)) * (upper - lower);
}

double robust_sd(const std::vector<double>& values) {
  std::vector<double> sizes(values.size());
  std::transform(values.begin(), values.end(), sizes.begin(), [](double x) { return std::abs(x); });
  return 1.4826 * quantile(std::move(sizes), 0.5);
}

}  // namespace bothways::numeric
