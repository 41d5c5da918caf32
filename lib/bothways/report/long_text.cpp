#include "bothways/report/long_text.hpp"

#include "bothways/core/microseconds.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cstdint>
#include <ostream>
#include <variant>

namespace bothways {

namespace {

constexpr std::int64_t us_per_ms = 1000;

/// Days from 1970 of the time as it is written, to the millisecond; 0 where the day is not known.
std::int64_t day_of(const Cell& cell) {
  const auto& time = std::get<TimeCell>(cell);
  const std::int64_t us = time.at.unix_us + us_per_ms / 2;
  return time.dated ? us / us_per_day - (us % us_per_day < 0 ? 1 : 0) : 0;
}

std::string day_words(const Cell& cell) {
  const auto& time = std::get<TimeCell>(cell);
  return time.dated ? date_words(time.at) : "the day is not in the log";
}

}  // namespace

int decimals_needed(Instant at) {
  auto ms = (at.unix_us + us_per_ms / 2) / us_per_ms % 1000;
  int decimals = 3;
  for (; decimals > 0 && ms % 10 == 0; --decimals) {
    ms /= 10;
  }
  return decimals;
}

void LongText::begin_block(const std::string& head) {
  *out_ << (told_.empty() ? "" : "\n");
  if (head != told_) {
    *out_ << wrapped(escaped(head), width_, "", "  ") << '\n';
    told_ = head;
  }
}

void LongText::add(const Table& part, const RowsHead& head) {
  const auto& rows = part.rows;
  const std::string name = head.path == "-" ? "Standard input" : head.path;
  for (auto first = rows.begin(); first != rows.end();) {
    const std::int64_t day = day_of(first->front());
    const auto last =
        std::find_if(first, rows.end(), [&](const auto& row) { return day_of(row.front()) != day; });
    begin_block(name + ", " + day_words(first->front()) + (head.more.empty() ? "" : "; " + head.more));
    const TextOptions options{.width = width_,
                              .times_only = true,
                              .time_decimals = head.time_decimals,
                              .told_above = {"log", "source"}};
    if (first == rows.begin() && last == rows.end()) {
      write_text(*out_, part, options);
    } else {
      write_text(*out_, {part.name, part.columns, {first, last}}, options);
    }
    first = last;
  }
}

}  // namespace bothways
