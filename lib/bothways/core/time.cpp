#include "bothways/core/time.hpp"

#include "bothways/core/microseconds.hpp"
#include "bothways/core/text.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cmath>

namespace bothways {

namespace {

constexpr std::int64_t s_per_day = 86'400;

/// Reads a text from the left; every take_... leaves it unchanged when it fails.
class Cursor {
 public:
  explicit Cursor(std::string_view text) : text_(text) {}

  std::optional<int> take_number(std::size_t min_digits, std::size_t max_digits) {
    int value = 0;
    std::size_t used = 0;
    while (used < text_.size() && used < max_digits && text_[used] >= '0' && text_[used] <= '9') {
      value = value * 10 + (text_[used] - '0');
      ++used;
    }
    if (used < min_digits) {
      return std::nullopt;
    }
    text_.remove_prefix(used);
    return value;
  }

  bool take(std::string_view token) {
    if (text_.substr(0, token.size()) != token) {
      return false;
    }
    text_.remove_prefix(token.size());
    return true;
  }

  /// Fraction of a second in microseconds; digits past the sixth are read and dropped.
  std::int64_t take_fraction_us() {
    std::int64_t value = 0;
    std::int64_t scale = us_per_s;
    while (!text_.empty() && text_.front() >= '0' && text_.front() <= '9') {
      if (scale > 1) {
        scale /= 10;
        value += (text_.front() - '0') * scale;
      }
      text_.remove_prefix(1);
    }
    return value;
  }

  [[nodiscard]] bool empty() const { return text_.empty(); }

 private:
  std::string_view text_;
};

/// Seconds to subtract for a zone; nothing if what is left of the text is no zone.
std::optional<std::int64_t> take_zone_s(Cursor& cursor, bool& has_zone) {
  has_zone = true;
  if (cursor.take("Z") || cursor.take("z")) {
    return 0;
  }
  cursor.take(" ");
  const bool plus = cursor.take("+");
  const bool minus = !plus && (cursor.take("-") || cursor.take("\xE2\x88\x92"));  // U+2212
  if (!plus && !minus) {
    has_zone = false;
    return 0;
  }
  const auto hours = cursor.take_number(1, 2);
  cursor.take(":");
  const auto minutes = cursor.take_number(2, 2);
  if (!hours || *hours > 15 || minutes.value_or(0) > 59) {
    return std::nullopt;
  }
  const std::int64_t offset_s = *hours * 3600 + minutes.value_or(0) * 60;
  return plus ? offset_s : -offset_s;
}

std::optional<std::int64_t> take_date_days(Cursor& cursor) {
  const auto year = cursor.take_number(4, 4);
  if (!year || !cursor.take("-")) {
    return std::nullopt;
  }
  const auto month = cursor.take_number(1, 2);
  if (!month || !cursor.take("-")) {
    return std::nullopt;
  }
  const auto day = cursor.take_number(1, 2);
  return day ? days_from_civil(*year, *month, *day) : std::nullopt;
}

/// Microseconds since midnight; 24:00:00 and second 60 allowed.
std::optional<std::int64_t> take_clock_us(Cursor& cursor) {
  const auto hour = cursor.take_number(1, 2);
  if (!hour || !cursor.take(":")) {
    return std::nullopt;
  }
  const auto minute = cursor.take_number(2, 2);
  if (!minute) {
    return std::nullopt;
  }
  int second = 0;
  std::int64_t fraction_us = 0;
  if (cursor.take(":")) {
    const auto read = cursor.take_number(2, 2);
    if (!read) {
      return std::nullopt;
    }
    second = *read;
    if (cursor.take(".") || cursor.take(",")) {
      fraction_us = cursor.take_fraction_us();
    }
  }
  const bool end_of_day = *hour == 24 && *minute == 0 && second == 0 && fraction_us == 0;
  if ((*hour > 23 && !end_of_day) || *minute > 59 || second > 60) {
    return std::nullopt;
  }
  return (*hour * 3600 + *minute * 60 + second) * us_per_s + fraction_us;
}

}  // namespace

Instant shifted(Instant from, double seconds) {
  return {from.unix_us + static_cast<std::int64_t>(std::llround(seconds * 1e6))};
}

std::optional<std::int64_t> days_from_civil(int year, int month, int day) {
  using namespace std::chrono;
  if (month < 1 || day < 1) {
    return std::nullopt;
  }
  const year_month_day date{std::chrono::year(year), std::chrono::month(static_cast<unsigned>(month)),
                            std::chrono::day(static_cast<unsigned>(day))};
  if (!date.ok()) {
    return std::nullopt;
  }
  return sys_days(date).time_since_epoch().count();
}

std::optional<ParsedTime> parse_iso8601(std::string_view text) {
  Cursor cursor(trimmed(text));
  const auto days = take_date_days(cursor);
  if (!days || !(cursor.take("T") || cursor.take("t") || cursor.take(" "))) {
    return std::nullopt;
  }
  const auto clock_us = take_clock_us(cursor);
  if (!clock_us) {
    return std::nullopt;
  }
  ParsedTime parsed;
  const auto zone_s = take_zone_s(cursor, parsed.has_zone);
  if (!zone_s || !cursor.empty()) {
    return std::nullopt;
  }
  parsed.instant.unix_us = (*days * s_per_day - *zone_s) * us_per_s + *clock_us;
  return parsed;
}

std::string format_iso8601(Instant instant) {
  using namespace std::chrono;
  const sys_time<milliseconds> rounded{round<milliseconds>(microseconds(instant.unix_us))};
  const auto day = floor<days>(rounded);
  const year_month_day date{day};
  const hh_mm_ss clock{rounded - day};
  std::string text = "    -  -  T  :  :  .   Z";
  const int year = static_cast<int>(date.year());
  const auto put = [&text](std::size_t at, std::size_t digits, std::int64_t value) {
    for (std::size_t i = digits; i-- > 0; value /= 10) {
      text[at + i] = static_cast<char>('0' + value % 10);
    }
  };
  put(5, 2, static_cast<unsigned>(date.month()));
  put(8, 2, static_cast<unsigned>(date.day()));
  put(11, 2, clock.hours().count());
  put(14, 2, clock.minutes().count());
  put(17, 2, clock.seconds().count());
  put(20, 3, clock.subseconds().count());
  if (year < 0 || year > 9999) {
    return fmt::format("{:04}{}", year, text.substr(4));
  }
  put(0, 4, year);
  return text;
}

}  // namespace bothways
