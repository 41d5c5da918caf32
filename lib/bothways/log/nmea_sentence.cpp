#include "bothways/log/nmea_sentence.hpp"

#include "bothways/core/microseconds.hpp"
#include "bothways/core/time.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>

namespace bothways {

namespace {

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

/// Judges the text from `*` on against the sum of the body. A letter or digit behind the two makes it wrong.
Checksum judge(std::uint8_t sum, std::string_view from_star) {
  if (from_star.empty()) {
    return Checksum::absent;
  }
  if (from_star.size() < 3) {
    return Checksum::cut;
  }
  const unsigned high = hex_value(from_star[1]);
  const unsigned low = hex_value(from_star[2]);
  const bool longer = from_star.size() > 3 && is_letter_or_digit(from_star[3]);
  return high < 16 && low < 16 && !longer && sum == high * 16 + low ? Checksum::right : Checksum::wrong;
}

/// Like text.find('$'), quick where it stands first or the text is short: nearly always.
std::size_t find_dollar(std::string_view text) {
  for (std::size_t i = 0; i < std::min<std::size_t>(text.size(), 4); ++i) {
    if (text[i] == '$') {
      return i;
    }
  }
  return text.size() <= 4 ? std::string_view::npos : text.find('$', 4);
}

/// Where the body of a sentence ends (at `*`, `$`, CR or the end of the text) and the XOR of what stands
/// before.
struct Body {
  std::size_t size = 0;
  std::uint8_t sum = 0;
};

template <bool split>
Body find_body(std::string_view text, Fields& fields) {
  Bytes16 sum{};
  std::size_t at = 0;
  for (; at < text.size(); at += Bytes16::size) {
    const Bytes16 block = Bytes16::load(text, at);
    const Lanes ends = block.where('*', '$', '\r');
    if (ends.any()) {
      if constexpr (split) {
        fields.add_commas(block.where(',').before(ends.first()), at);
      }
      sum.add(block.first(ends.first()));
      return {at + ends.first(), sum.folded()};
    }
    if constexpr (split) {
      fields.add_commas(block.where(','), at);
    }
    sum.add(block);
  }
  return {text.size(), sum.folded()};
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

bool take_sentence(std::string_view& line, Sentence& sentence) {
  for (;;) {
    const auto dollar = find_dollar(line);
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
  sentence.fields.clear();
  const Body body = sentence.kind == SentenceKind::gsa ? find_body<false>(line, sentence.fields)
                                                       : find_body<true>(line, sentence.fields);
  const std::string_view behind = line.substr(body.size);
  const std::string_view rest = behind.substr(0, std::min(find_dollar(behind), behind.size()));
  std::size_t mark = 0;  // the star and what belongs to it
  if (!rest.empty() && rest[0] == '*') {
    while (mark < std::min<std::size_t>(rest.size(), 4) && rest[mark] != '\r') {
      ++mark;
    }
  }
  const std::string_view from_star = rest.substr(0, mark);
  sentence.mixed_talker = line[0] == 'G' && line[1] == 'N';
  sentence.body = line.substr(0, body.size);
  sentence.fields.close(sentence.body);
  sentence.checksum = judge(body.sum, from_star);
  sentence.length = 1 + body.size + std::min<std::size_t>(3, from_star.size());
  line.remove_prefix(body.size + rest.size());
  return true;
}

Fields::Fields(std::string_view body) : Fields() {
  for (std::size_t at = 0; at < body.size(); at += Bytes16::size) {
    const Bytes16 block = Bytes16::load(body, at);
    add_commas(block.where(','), at);
  }
  close(body);
}

std::optional<std::int64_t> nmea_clock_us(std::string_view text) {
  if (text.size() < 6) {
    return std::nullopt;
  }
  const unsigned hour = two_digits(text.data());
  const unsigned minute = two_digits(&text[2]);
  const unsigned second = two_digits(&text[4]);
  if (hour > 23 || minute > 59 || second > 60) {
    return std::nullopt;
  }
  std::int64_t clock_us = std::int64_t{hour * 3600 + minute * 60 + second} * us_per_s;
  if (text.size() == 6) {
    return clock_us;
  }
  if (text[6] != '.') {
    return std::nullopt;
  }
  std::uint32_t scale = 100'000;
  std::uint32_t part_us = 0;
  for (const char c : text.substr(7)) {
    const unsigned digit = static_cast<unsigned>(c) - unsigned{'0'};
    if (digit > 9) {
      return std::nullopt;
    }
    part_us += digit * scale;
    scale /= 10;
  }
  return clock_us + part_us;
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
  // Latitudes have their point at 4, longitudes at 5.
  const bool usual = text.size() > 5 && (text[4] == '.' || text[5] == '.') && text[3] != '.';
  const std::size_t point = usual ? (text[4] == '.' ? 4 : 5) : std::min(text.find('.'), text.size());
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
