#include "bothways/log/csv_time.hpp"

#include "bothways/core/microseconds.hpp"
#include "bothways/core/text.hpp"
#include "bothways/log/csv_words.hpp"
#include "bothways/log/number.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

namespace {

// Spreadsheets count days from 1899-12-30 (OpenDocument's null date); 1970-01-01 is day 25569.
constexpr double serial_1970 = 25'569.0;

/// The date of a date column: in figures, or a whole serial day; @return nothing if it is neither.
std::optional<WrittenDate> date_of(std::string_view text) {
  const auto written = read_written_time(text);
  return written ? written->date : std::nullopt;
}

std::optional<double> serial_of(std::string_view text) {
  const auto number = parse_decimal(text);
  return number && *number >= serial_1990 && *number < serial_2100 ? number : std::nullopt;
}

const char* word_of(DateOrder order) {
  switch (order) {
    case DateOrder::dmy:
      return "dmy";
    case DateOrder::mdy:
      return "mdy";
    default:
      return "ymd";
  }
}

CsvTime asking(std::string question) {
  return {std::nullopt, true, std::move(question)};
}

}  // namespace

CsvTimes::CsvTimes(TimeName said, std::optional<DateOrder> order)
    : said_(said),
      orders_(order ? std::vector<DateOrder>{*order}
                    : std::vector<DateOrder>{DateOrder::dmy, DateOrder::mdy, DateOrder::ymd}),
      minutes_first_(said.minutes_first) {}

void CsvTimes::learn(const TimeCells& cells) {
  if (cells.number) {
    learn_number(cells);
  }
  const auto written = read_written_time(cells.time);
  const auto date = written && written->date ? written->date : date_of(cells.date);
  if (date) {
    const auto kept = orders_of(*date, orders_);
    orders_ = kept.empty() ? orders_ : kept;
  }
  if (written && written->clock && !date && !written->clock->three && !written->clock->half_day) {
    minutes_first_ = minutes_first_ || written->clock->fraction || written->clock->first > 23;
  }
}

CsvTime CsvTimes::read(const TimeCells& cells) {
  return cells.number ? read_number(cells) : read_text(cells);
}

/// Keeps the row if it is of the same kind as the first.
CsvTime CsvTimes::finished(bool dated, std::int64_t us, bool has_zone) {
  if (dated_.value_or(dated) != dated) {
    return {};
  }
  dated_ = dated;
  return {Instant{us}, has_zone, {}};
}

/// Seconds since 1970 have ten digits, milliseconds thirteen, microseconds sixteen, nanoseconds nineteen;
/// less than 1e8 are seconds since some start.
void CsvTimes::set_unit(double first) {
  const double size = std::abs(first);
  const bool says_seconds = said_.unit_us == us_per_s;
  if (said_.unit_us && (!says_seconds || size < 1e11)) {
    unit_us_ = said_.unit_us;
  } else {
    unit_us_ = size < 1e11 ? us_per_s : (size < 1e14 ? 1e3 : (size < 1e17 ? 1.0 : 1e-3));
  }
}

CsvTime CsvTimes::read_number(const TimeCells& cells) {
  if (!question_.empty()) {
    return asking("the time " + quoted(cells.time) + question_);
  }
  if (count_ == Count::compact_clock) {
    const auto clock = read_compact_clock(cells.time);
    return clock ? read_clock(cells, {std::nullopt, clock, std::nullopt}) : CsvTime{};
  }
  const double number = *cells.number;
  if (count_ == Count::serial_days) {
    const double us = (number - serial_1970) * us_per_day;
    return number >= serial_1990 && number < serial_2100 ? finished(true, std::llround(us), false)
                                                         : CsvTime{};
  }
  if (count_ == Count::day_parts) {
    const auto day = serial_of(cells.date);
    const double us = (day ? *day - serial_1970 + number : number) * us_per_day;
    return number >= 0.0 && number <= 1.0 ? finished(day.has_value(), std::llround(us), !day) : CsvTime{};
  }
  const bool first = !dated_.has_value();
  if (!unit_us_) {
    set_unit(number);
  }
  const double us = number * *unit_us_;
  if (!(std::abs(us) < 9e18)) {
    return {};
  }
  const bool dated = first ? std::abs(us) >= 1e14 : dated_.value_or(true);  // 1e8 s
  if (!dated && !cells.date.empty() && !said_.unit_us && !said_.elapsed) {
    return asking("the time " + quoted(cells.time) +
                  " beside a date is no time of day; write it as 09:30:12.5, or name the column time_s if it "
                  "counts seconds");
  }
  return finished(dated, std::llround(us), true);
}

CsvTime CsvTimes::read_text(const TimeCells& cells) {
  const auto iso = cells.date.empty() ? clock_.parse(cells.time) : std::nullopt;
  if (iso) {
    return finished(true, iso->instant.unix_us, iso->has_zone);
  }
  const auto written = read_written_time(cells.time);
  return written && written->clock ? read_clock(cells, *written) : CsvTime{};
}

/// A clock with its date, beside it or in a column of its own, or without any.
CsvTime CsvTimes::read_clock(const TimeCells& cells, const WrittenTime& written) {
  const auto date = written.date ? written.date : date_of(cells.date);
  const bool minutes_only = !written.clock->three && !written.clock->fraction && (date || !minutes_first_);
  (minutes_only ? minutes_only_ : seconds_) = true;
  if (date) {
    return read_dated(*date, written, written.date ? cells.time : cells.date);
  }
  if (const auto serial = serial_of(cells.date)) {
    WrittenDate day{{1970, 1, 1}, true};
    CsvTime found = read_dated(day, written, cells.date);
    if (found.instant) {
      found.instant->unix_us += static_cast<std::int64_t>(std::floor(*serial - serial_1970)) * us_per_day;
    }
    return found;
  }
  return cells.date.empty() ? read_undated(*written.clock, cells.time) : CsvTime{};
}

CsvTime CsvTimes::read_dated(const WrittenDate& date, const WrittenTime& time, std::string_view shown) {
  const WrittenClock& clock = *time.clock;
  if (clock.first > 24 || (!clock.three && clock.fraction)) {
    return {};
  }
  const std::vector<DateOrder> possible =
      orders_of(date, date.year_first ? std::vector<DateOrder>{DateOrder::ymd} : orders_);
  std::optional<std::int64_t> days;
  std::string choices;
  bool open = false;
  for (const DateOrder order : possible) {
    const auto these = days_of(date, order);
    open = open || (days && days != these);
    days = these;
    choices +=
        (choices.empty() ? "" : (order == possible.back() ? " or " : ", ")) + std::string(word_of(order));
  }
  if (!days) {
    return {};
  }
  if (open) {
    return asking("the date " + quoted(shown) + " can be read in several ways; say --date-order " + choices);
  }
  if (!date.year_first && possible.size() < orders_.size()) {
    orders_ = possible;
  }
  const std::int64_t clock_us = clock.first * us_per_hour + clock.second * us_per_minute + clock.rest_us;
  return finished(true, *days * us_per_day + clock_us - time.zone_us.value_or(0), time.zone_us.has_value());
}

/// Hours, minutes and seconds of a day or since a start. Where they run back by half a day or more, the next
/// day has begun; minutes and seconds alone, as a spreadsheet may show them, likewise the next hour.
CsvTime CsvTimes::read_undated(const WrittenClock& clock, std::string_view text) {
  const bool hours = clock.three || clock.half_day;
  if (!hours && !minutes_first_) {
    return asking("the time " + quoted(text) +
                  " may be hours and minutes or minutes and seconds; write it as 0:09:30, or give seconds");
  }
  const std::int64_t us = hours ? clock.first * us_per_hour + clock.second * us_per_minute + clock.rest_us
                                : clock.first * us_per_minute + clock.second * us_per_s + clock.rest_us;
  const std::int64_t period_us = hours ? us_per_day : us_per_hour;
  if (wrapping_ && us + wrapped_us_ < last_us_ - period_us / 2) {
    wrapped_us_ += period_us;
  }
  wrapping_ = true;
  last_us_ = us + wrapped_us_;
  return finished(false, last_us_, true);
}

}  // namespace bothways
