#pragma once

#include "bothways/log/read.hpp"

#include <algorithm>
#include <cstring>
#include <string>
#include <utility>

namespace log_test {

/// The bytes of a text as a source, at most `step` at a time.
inline bothways::ByteSource bytes_of(std::string text, std::size_t step = 1000) {
  return [text = std::move(text), step, used = std::size_t{0}](std::span<char> into) mutable {
    const std::size_t count = std::min({into.size(), step, text.size() - used});
    std::memcpy(into.data(), text.data() + used, count);
    used += count;
    return count;
  };
}

inline bothways::Log read_text(std::string text, const bothways::ReadOptions& options = {}) {
  return bothways::read_log(bytes_of(std::move(text)), "ride", options);
}

/// The note of that code, or nullptr.
inline const bothways::Note* find_note(const bothways::Log& log, const std::string& code) {
  const auto at =
      std::find_if(log.notes.begin(), log.notes.end(), [&](const auto& note) { return note.code == code; });
  return at == log.notes.end() ? nullptr : &*at;
}

/// `$body*hh\r\n` with its right checksum.
inline std::string sentence(const std::string& body) {
  unsigned sum = 0;
  for (const char c : body) {
    sum ^= static_cast<unsigned char>(c);
  }
  constexpr const char* digits = "0123456789ABCDEF";
  return "$" + body + "*" + digits[sum / 16] + digits[sum % 16] + "\r\n";
}

}  // namespace log_test
