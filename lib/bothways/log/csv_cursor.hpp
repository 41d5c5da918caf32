#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace bothways {

/// A whole number as written.
struct Digits {
  int value = 0;
  std::size_t count = 0;
};

/// Reads a text from the left; every take_... leaves it unchanged when it fails.
class CsvCursor {
 public:
  explicit CsvCursor(std::string_view text) : text_(text) {}

  std::optional<Digits> digits(std::size_t fewest, std::size_t most) {
    Digits found;
    while (found.count < text_.size() && found.count < most && is_digit(text_[found.count])) {
      found.value = found.value * 10 + (text_[found.count++] - '0');
    }
    if (found.count < fewest) {
      return std::nullopt;
    }
    text_.remove_prefix(found.count);
    return found;
  }

  bool take(std::string_view token) {
    if (!text_.starts_with(token)) {
      return false;
    }
    text_.remove_prefix(token.size());
    return true;
  }

  /// @param word  in small letters; the text may have capitals
  bool take_word(std::string_view word) {
    const auto same = [](char small, char c) { return (c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c) == small; };
    if (text_.size() < word.size() || !std::equal(word.begin(), word.end(), text_.begin(), same)) {
      return false;
    }
    text_.remove_prefix(word.size());
    return true;
  }

  /// Blanks, among them those that do not break a line.
  void skip_blanks() {
    while (take(" ") || take("\xC2\xA0") || take("\xE2\x80\xAF")) {
    }
  }

  /// Fraction of a second in microseconds; digits past the sixth are read and dropped.
  std::int64_t fraction_us() {
    std::int64_t value = 0;
    std::int64_t scale = 1'000'000;
    for (; !text_.empty() && is_digit(text_.front()); text_.remove_prefix(1)) {
      scale /= 10;
      value += (text_.front() - '0') * scale;
    }
    return value;
  }

  [[nodiscard]] bool empty() const { return text_.empty(); }
  [[nodiscard]] bool at_letter() const {
    return !text_.empty() && ((text_.front() | 0x20) >= 'a' && (text_.front() | 0x20) <= 'z');
  }

 private:
  static bool is_digit(char c) { return c >= '0' && c <= '9'; }

  std::string_view text_;
};

}  // namespace bothways
