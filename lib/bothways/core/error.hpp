#pragma once

#include <cstddef>
#include <stdexcept>
#include <string>

namespace bothways {

/// An input that cannot be used at all. `what()` is one sentence: file, line where known, trouble and remedy.
/// Ordinary damage (a bad checksum, a gap, a cut-off end) is a Note instead, and the rest is used.
class LogError : public std::runtime_error {
 public:
  /// @param file  name as the user gave it
  /// @param line  1-based line, 0 where it has no meaning
  /// @param text  the trouble and the remedy, without the file name
  LogError(std::string file, std::size_t line, std::string text);

  [[nodiscard]] const std::string& file() const { return file_; }
  [[nodiscard]] std::size_t line() const { return line_; }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  std::string file_;
  std::size_t line_ = 0;
  std::string text_;
};

}  // namespace bothways
