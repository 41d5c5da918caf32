#include "bothways/report/long_text.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <ostream>
#include <variant>

namespace bothways {

namespace {

constexpr std::int64_t us_per_ms = 1000;

/// "2026-05-04", or that there is no day.
std::string day_of(const Cell& cell) {
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
    *out_ << wrapped(escaped(head), TextOptions{}.width, "", "  ") << '\n';
    told_ = head;
  }
}

void LongText::add(const Table& part, const RowsHead& head) {
  const auto& rows = part.rows;
  const std::string name = head.path == "-" ? "Standard input" : head.path;
  for (auto first = rows.begin(); first != rows.end();) {
    const std::string day = day_of(first->front());
    const auto last =
        std::find_if(first, rows.end(), [&](const auto& row) { return day_of(row.front()) != day; });
    begin_block(name + ", " + day + (head.more.empty() ? "" : "; " + head.more));
    const TextOptions options{
        .times_only = true, .time_decimals = head.time_decimals, .told_above = {"log", "source"}};
    if (first == rows.begin() && last == rows.end()) {
      write_text(*out_, part, options);
    } else {
      write_text(*out_, {part.name, part.columns, {first, last}}, options);
    }
    first = last;
  }
}

}  // namespace bothways
