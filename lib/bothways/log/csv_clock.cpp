#include "bothways/log/csv_clock.hpp"

#include "bothways/core/microseconds.hpp"
#include "bothways/core/text.hpp"
#include "bothways/core/time.hpp"
#include "bothways/log/csv_cursor.hpp"

#include <algorithm>
#include <iterator>

namespace bothways {

namespace {

using Cursor = CsvCursor;

constexpr std::array<std::string_view, 12> months = {"january",   "february", "march",    "april",
                                                     "may",       "june",     "july",     "august",
                                                     "september", "october",  "november", "december"};

/// The name of a month, or its first three letters.
std::optional<int> take_month(Cursor& cursor) {
  for (std::size_t i = 0; i < months.size(); ++i) {
    if (cursor.take_word(months[i]) || cursor.take_word(months[i].substr(0, 3))) {
      cursor.take(".");
      return static_cast<int>(i) + 1;
    }
  }
  return std::nullopt;
}

std::optional<WrittenDate> take_compact_date(Cursor& cursor) {
  Cursor ahead = cursor;
  const auto all = ahead.digits(8, 8);
  if (!all) {
    return std::nullopt;
  }
  cursor = ahead;
  return WrittenDate{{all->value / 10'000, all->value / 100 % 100, all->value % 100}, true};
}

/// What stands between the parts of a date; 0 if there is nothing of the kind.
char take_between(Cursor& cursor) {
  for (const char c : {'-', '/', '.', ','}) {
    if (cursor.take({&c, 1})) {
      cursor.skip_blanks();
      return c;
    }
  }
  Cursor ahead = cursor;
  ahead.skip_blanks();
  const bool blank = cursor.take(" ");
  cursor = blank ? ahead : cursor;
  return blank ? ' ' : '\0';
}

/// Blanks and commas part a date with the month in words only.
bool is_usual(const WrittenDate& date, char between) {
  return date.word >= 0 || (between != ' ' && between != ',');
}

std::optional<WrittenDate> take_date(Cursor& cursor) {
  if (const auto compact = take_compact_date(cursor)) {
    return compact;
  }
  Cursor ahead = cursor;
  WrittenDate date;
  std::array<char, 3> between{};
  for (std::size_t i = 0; i < 3; ++i) {
    if (const auto month = date.word < 0 ? take_month(ahead) : std::nullopt) {
      date.part[i] = *month;
      date.word = static_cast<int>(i);
    } else if (const auto digits = ahead.digits(1, 4); digits && digits->count != 3) {
      date.part[i] = digits->value;
      date.year_first = date.year_first || (i == 0 && digits->count == 4);
      date.year_last = date.year_last || (i == 2 && digits->count == 4);
    } else {
      return std::nullopt;
    }
    between[i] = i < 2 ? take_between(ahead) : '\0';
    if (i < 2 && (between[i] == '\0' || (date.word < 0 && i == 1 && between[0] != between[1]))) {
      return std::nullopt;
    }
  }
  date.points = between[0] == '.';
  if (!is_usual(date, between[0])) {
    return std::nullopt;
  }
  cursor = ahead;
  return date;
}

/// AM or PM in any usual spelling; 0, or 12 hours to add.
std::optional<int> take_half(Cursor& cursor) {
  Cursor ahead = cursor;
  ahead.skip_blanks();
  const bool morning = ahead.take_word("a");
  if (!morning && !ahead.take_word("p")) {
    return std::nullopt;
  }
  ahead.take(".");
  ahead.skip_blanks();
  if (!ahead.take_word("m") || ahead.at_letter()) {
    return std::nullopt;
  }
  ahead.take(".");
  cursor = ahead;
  return morning ? 0 : 12;
}

/// Seconds behind the minutes, their fraction behind a point, a comma, or as three digits behind a colon.
bool take_seconds(Cursor& cursor, WrittenClock& clock) {
  const auto seconds = cursor.digits(2, 2);
  if (!seconds || seconds->value > 60) {
    return false;
  }
  clock.three = true;
  clock.rest_us = seconds->value * us_per_s;
  if (cursor.take(".") || cursor.take(",")) {
    clock.fraction = true;
    clock.rest_us += cursor.fraction_us();
  } else if (cursor.take(":")) {
    const auto thousandths = cursor.digits(3, 3);
    clock.fraction = true;
    clock.rest_us += thousandths ? thousandths->value * std::int64_t{1000} : 0;
    return thousandths.has_value();
  }
  return true;
}

std::optional<WrittenClock> take_clock(Cursor& cursor) {
  Cursor ahead = cursor;
  WrittenClock clock;
  const auto first = ahead.digits(1, 4);
  if (!first || !ahead.take(":")) {
    return std::nullopt;
  }
  const auto second = ahead.digits(2, 2);
  if (!second || second->value > 59) {
    return std::nullopt;
  }
  clock.first = first->value;
  clock.second = second->value;
  if (ahead.take(":")) {
    if (!take_seconds(ahead, clock)) {
      return std::nullopt;
    }
  } else if (ahead.take(".") || ahead.take(",")) {
    clock.fraction = true;
    clock.rest_us = ahead.fraction_us();
  }
  if (const auto half = take_half(ahead)) {
    if (clock.first < 1 || clock.first > 12) {
      return std::nullopt;
    }
    clock.first = clock.first % 12 + *half;
    clock.half_day = true;
  }
  cursor = ahead;
  return clock;
}

/// False if what stands there is no zone.
bool take_zone(Cursor& cursor, std::optional<std::int64_t>& zone_us) {
  cursor.skip_blanks();
  if (cursor.empty()) {
    return true;
  }
  const bool named = cursor.take_word("utc") || cursor.take_word("gmt");
  if (named || cursor.take_word("z")) {
    zone_us = 0;
  }
  if (cursor.empty()) {
    return true;
  }
  const bool plus = cursor.take("+");
  if (!plus && !cursor.take("-")) {
    return false;
  }
  const auto hours = cursor.digits(1, 2);
  cursor.take(":");
  const auto minutes = cursor.digits(2, 2);
  if (!hours || hours->value > 15 || (minutes && minutes->value > 59) || !cursor.empty()) {
    return false;
  }
  const std::int64_t east_s = hours->value * std::int64_t{3600} + (minutes ? minutes->value * 60 : 0);
  zone_us = (plus ? east_s : -east_s) * us_per_s;
  return true;
}

}  // namespace

std::optional<WrittenTime> read_written_time(std::string_view text) {
  Cursor cursor(trimmed(text));
  WrittenTime found;
  found.clock = take_clock(cursor);
  cursor.skip_blanks();
  found.date = take_date(cursor);
  if (found.date && !found.clock) {
    cursor.take(",");
    cursor.skip_blanks();
    cursor.take_word("t");
    found.clock = take_clock(cursor);
  }
  if ((!found.date && !found.clock) || !take_zone(cursor, found.zone_us)) {
    return std::nullopt;
  }
  return found;
}

std::optional<WrittenClock> read_compact_clock(std::string_view text) {
  Cursor cursor(trimmed(text));
  const auto all = cursor.digits(6, 6);
  WrittenClock clock;
  clock.fraction = all && (cursor.take(".") || cursor.take(","));
  clock.rest_us = clock.fraction ? cursor.fraction_us() : 0;
  if (!all || !cursor.empty() || all->value >= 240'000 || all->value / 100 % 100 > 59 ||
      all->value % 100 > 59) {
    return std::nullopt;
  }
  clock.first = all->value / 10'000;
  clock.second = all->value / 100 % 100;
  clock.rest_us += all->value % 100 * us_per_s;
  clock.three = true;
  return clock;
}

std::optional<std::int64_t> days_of(const WrittenDate& date, DateOrder order) {
  const auto [a, b, c] = date.part;
  const bool year_first = order == DateOrder::ymd;
  const int month_at = order == DateOrder::mdy ? 0 : 1;
  if (date.word == 1 && year_first && !date.year_first) {
    return std::nullopt;  // 13-May-26: the year stands last (common practice)
  }
  if ((date.year_first && !year_first) || (date.year_last && year_first) ||
      (date.word >= 0 && date.word != month_at)) {
    return std::nullopt;
  }
  const int year = year_first ? a : c;
  const bool four_digits = year_first ? date.year_first : date.year_last;
  const int whole_year = four_digits ? year : (year < 80 ? 2000 : 1900) + year;
  const int day = order == DateOrder::dmy ? a : (order == DateOrder::mdy ? b : c);
  return days_from_civil(whole_year, month_at == 0 ? a : b, day);
}

std::vector<DateOrder> orders_of(const WrittenDate& date, const std::vector<DateOrder>& orders) {
  const bool day_first = date.points && !date.year_first && orders.size() > 1;
  std::vector<DateOrder> kept;
  std::copy_if(orders.begin(), orders.end(), std::back_inserter(kept), [&](DateOrder order) {
    return days_of(date, order).has_value() && (!day_first || order == DateOrder::dmy);
  });
  return kept;
}

}  // namespace bothways
