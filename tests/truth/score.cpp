#include "truth/score.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <tuple>

namespace bothways::truth {

void Score::add(const Estimate& found, double true_s) {
  if (!std::isfinite(found.value) || !std::isfinite(found.lo95) || !std::isfinite(found.hi95) ||
      found.lo95 > found.value || found.hi95 < found.value || !(found.sd > 0.0)) {
    ++broken;
    return;
  }
  error_s.push_back(found.value - true_s);
  width_s.push_back(found.hi95 - found.lo95);
  z.push_back((found.value - true_s) / found.sd);
  if (found.lo95 <= true_s && true_s <= found.hi95) {
    ++held;
  }
}

void Score::add(double found_s, double true_s) {
  error_s.push_back(found_s - true_s);
}

std::pair<double, double> wilson(std::size_t hits, std::size_t n) {
  if (n == 0) {
    return {0.0, 1.0};
  }
  constexpr double z = 1.959963984540054;
  const auto count = static_cast<double>(n);
  const double p = static_cast<double>(hits) / count;
  const double middle = p + z * z / (2.0 * count);
  const double half = z * std::sqrt(p * (1.0 - p) / count + z * z / (4.0 * count * count));
  const double scale = 1.0 + z * z / count;
  return {(middle - half) / scale, (middle + half) / scale};
}

Summary summary(const Score& score) {
  Summary s;
  s.n = score.error_s.size();
  if (s.n == 0) {
    return s;
  }
  const auto count = static_cast<double>(s.n);
  std::vector<double> size;
  size.reserve(s.n);
  for (const double error : score.error_s) {
    s.bias_s += error / count;
    s.rms_s += error * error / count;
    size.push_back(std::abs(error));
  }
  s.rms_s = std::sqrt(s.rms_s);
  const auto middle = size.begin() + static_cast<std::ptrdiff_t>(s.n / 2);
  std::nth_element(size.begin(), middle, size.end());
  s.median_s = *middle;
  for (const double width : score.width_s) {
    s.width_s += width / count;
  }
  for (const double z : score.z) {
    s.mean_square_z += z * z / count;
  }
  s.coverage = static_cast<double>(score.held) / count;
  std::tie(s.coverage_lo, s.coverage_hi) = wilson(score.held, s.n);
  return s;
}

}  // namespace bothways::truth
