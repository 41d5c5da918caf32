#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace bothways {

/// Reads a decimal number, white space around and a leading + allowed; the nearest double, whatever the
/// locale.
/// @return nothing for an empty text, trailing other text, "inf" or "nan".
[[nodiscard]] std::optional<double> parse_decimal(std::string_view text);

/// A number and the digits behind its point, as written.
struct WrittenNumber {
  double value = 0.0;
  std::size_t decimals = 0;
};

/// parse_decimal() and decimals_of() in one.
[[nodiscard]] std::optional<WrittenNumber> parse_written(std::string_view text);

/// Digits behind the decimal point of a number as written.
[[nodiscard]] std::size_t decimals_of(std::string_view text);

/// Two ASCII digits as a number, 100 if they are none.
/// @param at  two bytes
[[nodiscard]] constexpr unsigned two_digits(const char* at) {
  const unsigned tens = static_cast<unsigned char>(at[0]) - unsigned{'0'};
  const unsigned ones = static_cast<unsigned char>(at[1]) - unsigned{'0'};
  return tens > 9 || ones > 9 ? 100 : tens * 10 + ones;
}

}  // namespace bothways
