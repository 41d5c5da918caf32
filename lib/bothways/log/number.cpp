#include "bothways/log/number.hpp"

#include <array>
#include <charconv>
#include <cmath>
#include <cstdint>

namespace bothways {

namespace {

constexpr std::array<double, 23> powers_of_ten = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                  1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                                  1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};

/// Plain digits with at most one point: one exact division gives the nearest double if both parts are exact.
std::optional<double> parse_short_decimal(std::string_view digits) {
  std::uint64_t mantissa = 0;
  std::size_t count = 0;
  std::size_t behind_point = 0;
  bool point = false;
  for (const char c : digits) {
    if (c >= '0' && c <= '9') {
      mantissa = mantissa * 10 + static_cast<std::uint64_t>(c - '0');
      ++count;
      behind_point += point ? 1U : 0U;
    } else if (c == '.' && !point) {
      point = true;
    } else {
      return std::nullopt;
    }
  }
  constexpr std::uint64_t exact = std::uint64_t{1} << 53U;
  if (count == 0 || count > 18 || mantissa > exact) {
    return std::nullopt;
  }
  return static_cast<double>(mantissa) / powers_of_ten[behind_point];
}

bool is_white(char c) {
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && is_white(text.front())) {
    text.remove_prefix(1);
  }
  while (!text.empty() && is_white(text.back())) {
    text.remove_suffix(1);
  }
  return text;
}

std::optional<double> parse_decimal(std::string_view text) {
  std::string_view digits = trimmed(text);
  const bool minus = !digits.empty() && digits.front() == '-';
  if (minus || (!digits.empty() && digits.front() == '+')) {
    digits.remove_prefix(1);
  }
  if (const auto value = parse_short_decimal(digits)) {
    return minus ? -*value : *value;
  }
  if (digits.empty() || digits.front() == '-') {
    return std::nullopt;
  }
  double value = 0.0;
  const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (error != std::errc() || end != digits.data() + digits.size() || !std::isfinite(value)) {
    return std::nullopt;
  }
  return minus ? -value : value;
}

std::size_t decimals_of(std::string_view text) {
  const auto point = text.find('.');
  return point == std::string_view::npos ? 0 : text.size() - point - 1;
}

}  // namespace bothways
