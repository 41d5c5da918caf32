#include "bothways/core/microseconds.hpp"
#include "bothways/log/csv_time.hpp"
#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

// What the first rows of a CSV log together say about its times.

namespace bothways {

namespace {

// Fixes follow each other in less than two minutes, which is this part of a day; in seconds it would be more
// than 600 a second.
constexpr double largest_day_step = 0.0015;
constexpr double largest_step_s = 130.0;
// Whole numbers that step by 10 or more may be milliseconds of 100 fixes a second; up to 5000 they are one in
// 5 s.
constexpr double least_step_ms = 10.0;
constexpr double largest_step_ms = 5000.0;
constexpr double since_1970_s = 1e8;

/// Middle of the steps forward; 0 if there is none.
double usual_step(const std::vector<double>& numbers) {
  std::vector<double> steps;
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    if (numbers[i] > numbers[i - 1]) {
      steps.push_back(numbers[i] - numbers[i - 1]);
    }
  }
  return steps.empty() ? 0.0 : numeric::quantile(std::move(steps), 0.5);
}

bool all_whole(const std::vector<double>& numbers) {
  return std::all_of(numbers.begin(), numbers.end(), [](double n) { return n == std::floor(n); });
}

double largest_step(const std::vector<double>& numbers) {
  double largest = 0.0;
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    largest = std::max(largest, numbers[i] - numbers[i - 1]);
  }
  return largest;
}

bool all_within(const std::vector<double>& numbers, double low, double high) {
  return std::all_of(numbers.begin(), numbers.end(), [=](double n) { return n >= low && n < high; });
}

}  // namespace

void CsvTimes::learn_number(const TimeCells& cells) {
  const auto clock = read_compact_clock(cells.time);
  if (clock && clocks_s_.size() == numbers_.size()) {
    clocks_s_.push_back(
        static_cast<double>(clock->first * us_per_hour + clock->second * us_per_minute + clock->rest_us) /
        us_per_s);
    sure_clock_ = sure_clock_ || cells.time.starts_with('0') || !cells.date.empty();
  }
  numbers_.push_back(*cells.number);
}

void CsvTimes::settle() {
  if (!said_.unit_us && !said_.elapsed && numbers_.size() > 1) {
    const double step = usual_step(numbers_);
    if (step > 0.0 && step < largest_day_step) {
      count_ = all_within(numbers_, serial_1990, serial_2100) ? Count::serial_days
               : all_within(numbers_, 0.0, 1.0)               ? Count::day_parts
                                                              : Count::by_size;
    }
  }
  if (!said_.unit_us && !said_.elapsed && !numbers_.empty() && clocks_s_.size() == numbers_.size()) {
    settle_clock();
  } else if (!said_.unit_us && count_ == Count::by_size) {
    settle_unit();
  }
  numbers_.clear();
  clocks_s_.clear();
}

/// 093012.5 is a time of day where a zero stands in front, a date beside it, or a minute ends at 59; six
/// digits could count seconds, too.
void CsvTimes::settle_clock() {
  constexpr double past_59 = 40.0;  // from 59 to the 00 of the next minute, less a second
  if (sure_clock_ || largest_step(numbers_) > largest_step(clocks_s_) + past_59 - 1.0) {
    count_ = Count::compact_clock;
  } else if (numbers_.size() > 1) {
    question_ =
        " may be a time of day without colons or count seconds; write it as 09:30:12.5, or name the column "
        "time_s if it counts seconds";
  }
}

/// Whole numbers since a start, whose column does not say what they count: no log has a fix in two minutes.
void CsvTimes::settle_unit() {
  const double step = usual_step(numbers_);
  if (step < least_step_ms || !all_whole(numbers_) || !all_within(numbers_, -since_1970_s, since_1970_s)) {
    return;
  }
  if (step > largest_step_s && step <= largest_step_ms) {
    unit_us_ = 1e3;
  } else {
    question_ =
        " does not say what it counts, and the next is a long way off; name the column time_s, time_ms or "
        "time_us for seconds, milliseconds or microseconds";
  }
}

}  // namespace bothways
