#include "bothways/report/number.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <stdexcept>

namespace bothways {

namespace {

double half_interval(const Estimate& e) {
  return std::max(e.hi95 - e.value, e.value - e.lo95);
}

}  // namespace

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

bool is_printable(const Estimate& e) {
  return std::isfinite(e.value) && std::isfinite(e.sd) && std::isfinite(e.lo95) && std::isfinite(e.hi95);
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

Shown shown(const Estimate& estimate) {
  const Estimate e = rounded(estimate);
  const double half = rounded(half_interval(e), machine_decimals);
  const int decimals = decimals_for(half);
  return {fixed(e.value, decimals), fixed(half, decimals)};
}

std::string plus_minus(const Estimate& estimate) {
  const Shown s = shown(estimate);
  return s.value + " ± " + s.half;
}

std::string shown_like(double value, const Estimate& beside) {
  const Estimate e = rounded(beside);
  return fixed(rounded(value, machine_decimals), decimals_for(rounded(half_interval(e), machine_decimals)));
}

}  // namespace bothways
