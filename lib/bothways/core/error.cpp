#include "bothways/core/error.hpp"

#include <utility>

namespace bothways {

namespace {

std::string sentence(const std::string& file, std::size_t line, const std::string& text) {
  return line == 0 ? file + ": " + text : file + ":" + std::to_string(line) + ": " + text;
}

}  // namespace

LogError::LogError(std::string file, std::size_t line, std::string text)
    : std::runtime_error(sentence(file, line, text)),
      file_(std::move(file)),
      line_(line),
      text_(std::move(text)) {}

}  // namespace bothways
