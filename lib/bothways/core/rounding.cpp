#include "bothways/core/rounding.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace bothways {

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) {
    throw std::invalid_argument("a figure that is not finite cannot be written");
  }
  std::array<char, 400> buffer{};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 std::chars_format::fixed, std::clamp(decimals, 0, 12));
  std::string text(buffer.data(), end.ptr);
  if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) {
    text.erase(0, 1);
  }
  return text;
}

double rounded(double value, int decimals) {
  const std::string text = fixed(value, decimals);
  double result = 0.0;
  std::from_chars(text.data(), text.data() + text.size(), result);
  return result;
}

Estimate rounded(const Estimate& estimate) {
  Estimate result{rounded(estimate.value, machine_decimals), rounded(estimate.sd, machine_decimals),
                  rounded(estimate.lo95, machine_decimals), rounded(estimate.hi95, machine_decimals)};
  if (estimate.sd > 0.0 && result.sd == 0.0) {
    result.sd = 0.001;
  }
  return result;
}

int decimals_for(double half_interval) {
  if (!(half_interval > 0.0) || !std::isfinite(half_interval)) {
    return machine_decimals;
  }
  for (int decimals = 0; decimals < machine_decimals; ++decimals) {
    const double step = std::pow(10.0, -decimals);
    // The last digit shown must be worth less than a third of the half-interval: 0.3 is one digit, 0.29 two.
    if (rounded(half_interval / step, 6) >= 3.0) {
      return decimals;
    }
  }
  return machine_decimals;
}

int decimals_for(const Estimate& rounded_estimate) {
  const Estimate& e = rounded_estimate;
  return decimals_for(rounded(std::max(e.hi95 - e.value, e.value - e.lo95), machine_decimals));
}

int difference_decimals(const Estimate& rounded_estimate) {
  const Estimate& e = rounded_estimate;
  int decimals = decimals_for(e);
  if (e.lo95 > 0.0 || e.hi95 < 0.0) {
    const double near = std::min(std::abs(e.lo95), std::abs(e.hi95));
    while (decimals < machine_decimals && rounded(near, decimals) == 0.0) {
      ++decimals;
    }
  }
  return decimals;
}

}  // namespace bothways
