#pragma once

#include <algorithm>
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// The words of a plain column name: "speed_km_h" -> speed, km, h.
inline std::vector<std::string_view> words_of(std::string_view plain) {
  std::vector<std::string_view> words;
  while (!plain.empty()) {
    const auto end = std::min(plain.find('_'), plain.size());
    words.push_back(plain.substr(0, end));
    plain.remove_prefix(std::min(end + 1, plain.size()));
  }
  return words;
}

template <typename Words>
bool is_one_of(std::string_view word, const Words& words) {
  return std::find(words.begin(), words.end(), word) != words.end();
}

/// The beginning of a cell, for a sentence.
inline std::string quoted(std::string_view cell) {
  constexpr std::size_t longest = 40;
  return "\"" + std::string(cell.substr(0, longest)) + "\"";
}

}  // namespace bothways
