#include "bothways/log/nmea_sentence.hpp"

#include "bothways/core/time.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>
#include <cstring>

namespace bothways {

namespace {

constexpr std::int64_t us_per_s = 1'000'000;

constexpr std::uint32_t letters(char a, char b, char c) {
  return (static_cast<std::uint32_t>(a) << 16U) | (static_cast<std::uint32_t>(b) << 8U) |
         static_cast<std::uint32_t>(c);
}

/// 0..15, or 16 if it is no hex digit.
unsigned hex_value(char c) {
  if (c >= '0' && c <= '9') {
    return static_cast<unsigned>(c - '0');
  }
  if (c >= 'A' && c <= 'F') {
    return static_cast<unsigned>(c - 'A') + 10;
  }
  if (c >= 'a' && c <= 'f') {
    return static_cast<unsigned>(c - 'a') + 10;
  }
  return 16;
}

bool is_letter_or_digit(char c) {
  return (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z');
}

/// Reads `digits` decimal digits at `at`; -1 if one of them is none.
int digits_at(std::string_view text, std::size_t at, std::size_t digits) {
  int value = 0;
  for (std::size_t i = at; i < at + digits; ++i) {
    if (i >= text.size() || text[i] < '0' || text[i] > '9') {
      return -1;
    }
    value = value * 10 + (text[i] - '0');
  }
  return value;
}

/// Judges the text from `*` on against the body. A letter or digit behind the two makes it wrong.
Checksum judge(std::string_view body, std::string_view from_star) {
  if (from_star.empty()) {
    return Checksum::absent;
  }
  if (from_star.size() < 3) {
    return Checksum::cut;
  }
  const unsigned high = hex_value(from_star[1]);
  const unsigned low = hex_value(from_star[2]);
  const bool longer = from_star.size() > 3 && is_letter_or_digit(from_star[3]);
  return high < 16 && low < 16 && !longer && xor_of(body) == high * 16 + low ? Checksum::right
                                                                             : Checksum::wrong;
}

}  // namespace

SentenceKind sentence_kind(std::string_view body) {
  if (body.size() < 6 || body[5] != ',' || body[0] == 'P') {
    return SentenceKind::other;
  }
  switch (letters(body[2], body[3], body[4])) {
    case letters('R', 'M', 'C'):
      return SentenceKind::rmc;
    case letters('V', 'T', 'G'):
      return SentenceKind::vtg;
    case letters('G', 'G', 'A'):
      return SentenceKind::gga;
    case letters('G', 'N', 'S'):
      return SentenceKind::gns;
    case letters('G', 'L', 'L'):
      return SentenceKind::gll;
    case letters('Z', 'D', 'A'):
      return SentenceKind::zda;
    case letters('G', 'S', 'A'):
      return SentenceKind::gsa;
    case letters('G', 'S', 'T'):
      return SentenceKind::gst;
    default:
      return SentenceKind::other;
  }
}

std::uint8_t xor_of(std::string_view bytes) {
  std::uint64_t wide = 0;
  const char* at = bytes.data();
  std::size_t left = bytes.size();
  for (; left >= 8; left -= 8, at += 8) {
    std::uint64_t block = 0;
    std::memcpy(&block, at, 8);
    wide ^= block;
  }
  wide ^= wide >> 32U;
  wide ^= wide >> 16U;
  wide ^= wide >> 8U;
  auto result = static_cast<std::uint8_t>(wide);
  for (; left > 0; --left, ++at) {
    result = static_cast<std::uint8_t>(result ^ static_cast<std::uint8_t>(*at));
  }
  return result;
}

bool take_sentence(std::string_view& line, Sentence& sentence) {
  for (;;) {
    const auto dollar = line.find('$');
    if (dollar == std::string_view::npos) {
      line = {};
      return false;
    }
    line.remove_prefix(dollar + 1);
    sentence.kind = sentence_kind(line);
    if (sentence.kind != SentenceKind::other) {
      break;
    }
  }
  const std::string_view rest = line.substr(0, std::min(line.find('$'), line.size()));
  const std::string_view text = rest.substr(0, std::min(rest.find('\r'), rest.size()));
  const auto star = std::min(text.find('*'), text.size());
  sentence.mixed_talker = text[0] == 'G' && text[1] == 'N';
  sentence.body = text.substr(0, star);
  sentence.checksum = judge(sentence.body, text.substr(star));
  sentence.length = 1 + star + std::min<std::size_t>(3, text.size() - star);
  line.remove_prefix(rest.size());
  return true;
}

Fields::Fields(std::string_view body) {
  const char* at = body.data();
  const char* const end = at + body.size();
  while (count_ < field_.size()) {
    const auto* comma = static_cast<const char*>(std::memchr(at, ',', static_cast<std::size_t>(end - at)));
    const char* stop = comma == nullptr ? end : comma;
    field_[count_++] = {at, static_cast<std::size_t>(stop - at)};
    if (comma == nullptr) {
      break;
    }
    at = comma + 1;
  }
}

std::optional<std::int64_t> nmea_clock_us(std::string_view text) {
  const int hour = digits_at(text, 0, 2);
  const int minute = digits_at(text, 2, 2);
  const int second = digits_at(text, 4, 2);
  if (hour < 0 || hour > 23 || minute < 0 || minute > 59 || second < 0 || second > 60) {
    return std::nullopt;
  }
  std::int64_t clock_us = (hour * 3600 + minute * 60 + second) * us_per_s;
  if (text.size() == 6) {
    return clock_us;
  }
  if (text[6] != '.') {
    return std::nullopt;
  }
  std::int64_t scale = us_per_s;
  for (const char c : text.substr(7)) {
    if (c < '0' || c > '9') {
      return std::nullopt;
    }
    scale /= 10;
    clock_us += (c - '0') * scale;
  }
  return clock_us;
}

std::optional<std::int64_t> nmea_date_days(std::string_view text) {
  if (text.size() != 6) {
    return std::nullopt;
  }
  const int day = digits_at(text, 0, 2);
  const int month = digits_at(text, 2, 2);
  const int year = digits_at(text, 4, 2);
  if (day < 1 || month < 1 || year < 0) {
    return std::nullopt;
  }
  return days_from_civil(year < 80 ? 2000 + year : 1900 + year, month, day);
}

std::optional<double> nmea_degrees(std::string_view text, std::string_view hemisphere) {
  const auto point = std::min(text.find('.'), text.size());
  if (point < 3 || point > 5 || hemisphere.size() != 1) {
    return std::nullopt;
  }
  const char side = hemisphere[0];
  const bool negative = side == 'S' || side == 'W';
  if (!negative && side != 'N' && side != 'E') {
    return std::nullopt;
  }
  const int degrees = digits_at(text, 0, point - 2);
  const auto minutes = parse_decimal(text.substr(point - 2));
  if (degrees < 0 || !minutes || *minutes < 0.0 || *minutes >= 60.0 || text[point - 2] == '-' ||
      text[point - 2] == '+') {
    return std::nullopt;
  }
  const double value = degrees + *minutes / 60.0;
  return negative ? -value : value;
}

}  // namespace bothways
