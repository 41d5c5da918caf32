#pragma once

#include <string>

namespace bothways::cli {

/// A time, or a share of a time.
struct Amount {
  double value = 0.0;    ///< s, or per cent
  bool percent = false;  ///< which of the two
};

/// Reads "0.2 s", "200ms", "2 %". @throws UsageError  naming the option, if there is no figure above 0 or no
/// such unit.
[[nodiscard]] Amount parse_amount(const std::string& text, const std::string& option);

/// Reads "0.8" or "80 %". @throws UsageError  naming the option, if it is not between 0 and 1.
[[nodiscard]] double parse_chance(const std::string& text, const std::string& option);

}  // namespace bothways::cli
