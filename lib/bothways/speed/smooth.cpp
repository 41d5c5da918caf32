#include "bothways/speed/smooth.hpp"

#include <algorithm>
#include <cstddef>

namespace bothways {

namespace {

constexpr double half_s = 0.21;  // of a mean: five samples at 10 Hz; common practice, no source

}  // namespace

std::vector<double> median_of_three(const Stretch& stretch) {
  std::vector<double> out = stretch.v_mps;
  for (std::size_t i = 1; i + 1 < out.size(); ++i) {
    if (stretch.t_s[i + 1] - stretch.t_s[i - 1] < 2.5 * half_s) {
      const double a = stretch.v_mps[i - 1];
      const double b = stretch.v_mps[i];
      const double c = stretch.v_mps[i + 1];
      out[i] = std::max(std::min(a, b), std::min(std::max(a, b), c));
    }
  }
  return out;
}

std::vector<double> smoothed(const Stretch& stretch, const std::vector<double>& column) {
  const std::size_t n = column.size();
  std::vector<double> out(n, 0.0);
  std::size_t lo = 0;
  std::size_t hi = 0;
  for (std::size_t i = 0; i < n; ++i) {
    while (stretch.t_s[i] - stretch.t_s[lo] > half_s) {
      ++lo;
    }
    while (hi < n && stretch.t_s[hi] - stretch.t_s[i] <= half_s) {
      ++hi;
    }
    double sum = 0.0;
    double count = 0.0;
    for (std::size_t k = lo; k < hi; ++k) {
      if (is_valid(stretch, k)) {
        sum += column[k];
        count += 1.0;
      }
    }
    if (count > 0.0) {
      out[i] = sum / count;
    } else {
      out[i] = i > 0 ? out[i - 1] : 0.0;
    }
  }
  return out;
}

}  // namespace bothways
