#include "bothways/log/iso_clock.hpp"

#include "bothways/core/microseconds.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>
#include <cstddef>

namespace bothways {

namespace {

constexpr std::size_t shortest = std::string_view("2026-05-04T09:30:12Z").size();

/// `.34` in microseconds, further digits cut off; -1 if it is no fraction.
std::int64_t fraction_us(std::string_view text) {
  if (text.size() < 2 || text.front() != '.') {
    return -1;
  }
  std::int64_t value = 0;
  std::int64_t scale = us_per_s;
  for (const char c : text.substr(1)) {
    if (c < '0' || c > '9') {
      return -1;
    }
    scale /= 10;
    value += (c - '0') * scale;
  }
  return value;
}

}  // namespace

std::optional<ParsedTime> IsoClock::parse_usual(std::string_view text) {
  if (text.size() < shortest || text[10] != 'T' || text[13] != ':' || text[16] != ':' || text.back() != 'Z') {
    return std::nullopt;
  }
  const unsigned hour = two_digits(&text[11]);
  const unsigned minute = two_digits(&text[14]);
  const unsigned second = two_digits(&text[17]);
  const std::int64_t part_us =
      text.size() == shortest ? 0 : fraction_us(text.substr(19, text.size() - shortest));
  if (hour > 23 || minute > 59 || second > 59 || part_us < 0) {
    return std::nullopt;
  }
  const std::int64_t clock_us = std::int64_t{hour * 3600 + minute * 60 + second} * us_per_s + part_us;
  if (!std::equal(date_.begin(), date_.end(), text.begin())) {
    const auto slow = parse_iso8601(text);
    if (!slow) {
      return std::nullopt;
    }
    std::copy_n(text.begin(), date_.size(), date_.begin());
    date_us_ = slow->instant.unix_us - clock_us;
  }
  return ParsedTime{Instant{date_us_ + clock_us}, true};
}

std::optional<ParsedTime> IsoClock::parse(std::string_view text) {
  if (const auto usual = parse_usual(text)) {
    return usual;
  }
  return parse_iso8601(text);
}

}  // namespace bothways
