#pragma once

#include <algorithm>
#include <string>
#include <string_view>

namespace bothways {

/// White space (blank, tab, CR, LF) at both ends cut off.
[[nodiscard]] constexpr std::string_view trimmed(std::string_view text) {
  constexpr std::string_view white = " \t\r\n";
  while (!text.empty() && white.find(text.front()) != std::string_view::npos) {
    text.remove_prefix(1);
  }
  while (!text.empty() && white.find(text.back()) != std::string_view::npos) {
    text.remove_suffix(1);
  }
  return text;
}

/// With small letters for capitals, ASCII's alone, whatever the locale.
[[nodiscard]] inline std::string lowered(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(),
                 [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
  return text;
}

}  // namespace bothways
