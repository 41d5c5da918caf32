#include "bothways/core/rounding.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <stdexcept>

namespace bothways {

namespace {

constexpr std::array<double, 13> tens = {1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12};

/// Writes a figure as whole multiples of its last place; nullptr where it is too large for that or so near
/// the middle between two that only exact arithmetic can tell which way it rounds.
char* write_in_places(char* begin, char* end, double value, std::size_t places) {
  constexpr double largest = 1e12;  // a product is wrong by at most 1e-4 of the last place then
  const double scaled = std::abs(value) * tens[places];
  if (!(scaled < largest)) {
    return nullptr;
  }
  auto units = static_cast<std::uint64_t>(scaled);
  const double left = scaled - static_cast<double>(units);
  if (std::abs(left - 0.5) < 1e-3) {
    return nullptr;
  }
  units += left > 0.5 ? 1U : 0U;
  char* at = begin;
  if (value < 0.0 && units > 0) {
    *at++ = '-';
  }
  const auto unit = static_cast<std::uint64_t>(tens[places]);
  at = std::to_chars(at, end, units / unit).ptr;
  if (places > 0) {
    *at = '.';
    std::uint64_t rest = units % unit;
    for (std::size_t k = places; k > 0; --k, rest /= 10) {
      at[k] = static_cast<char>('0' + rest % 10);
    }
    at += places + 1;
  }
  return at;
}

}  // namespace

std::string fixed(double value, int decimals) {
  if (!std::isfinite(value)) {
    throw std::invalid_argument("a figure that is not finite cannot be written");
  }
  const int places = std::clamp(decimals, 0, 12);
  std::array<char, 32> brief{};  // sign, 12 digits, point, 12 digits
  if (const char* quick = write_in_places(brief.data(), brief.data() + brief.size(), value,
                                          static_cast<std::size_t>(places))) {
    return {static_cast<const char*>(brief.data()), quick};
  }
  std::array<char, 400> buffer{};  // the largest double has 309 digits before the point
  const auto end =
      std::to_chars(buffer.data(), buffer.data() + buffer.size(), value, std::chars_format::fixed, places);
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
