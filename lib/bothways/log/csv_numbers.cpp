#include "bothways/log/csv_numbers.hpp"

#include "bothways/core/text.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>

namespace bothways {

namespace {

std::string with_point(std::string_view cell, std::size_t comma) {
  std::string text(cell);
  text[comma] = '.';
  return text;
}

std::string without_commas(std::string_view cell) {
  std::string text(cell);
  std::erase(text, ',');
  return text;
}

/// One to three digits, not 0, then commas with three digits each: 1,234 or 12,345,678.9.
bool could_be_thousands(std::string_view cell) {
  std::string_view whole = trimmed(cell);
  whole = whole.substr(0, whole.find('.'));
  if (!whole.empty() && (whole.front() == '-' || whole.front() == '+')) {
    whole.remove_prefix(1);
  }
  const auto first = whole.find(',');
  if (first == 0 || first > 3 || whole.front() == '0') {
    return false;
  }
  for (std::size_t at = first; at < whole.size(); at += 4) {
    if (whole[at] != ',' || whole.size() - at < 4) {
      return false;
    }
  }
  return true;
}

}  // namespace

void CsvNumbers::learn(std::string_view cell) {
  const auto comma = cell.find(',');
  if (comma == std::string_view::npos) {
    saw_point_ = saw_point_ || (cell.find('.') != std::string_view::npos && parse_decimal(cell));
  } else if (!could_be_thousands(cell)) {
    saw_decimal_comma_ = saw_decimal_comma_ || parse_decimal(with_point(cell, comma));
  }
}

std::optional<double> CsvNumbers::read(std::string_view cell) const {
  const auto comma = cell.find(',');
  if (comma == std::string_view::npos) {
    return parse_decimal(cell);
  }
  if (saw_point_ && !saw_decimal_comma_) {
    return could_be_thousands(cell) ? parse_decimal(without_commas(cell)) : std::nullopt;
  }
  return parse_decimal(with_point(cell, comma));
}

}  // namespace bothways
