#pragma once

#include "bothways/log/read.hpp"

#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

namespace bothways {

/// A date as written in figures, or with the month as an English word.
struct WrittenDate {
  std::array<int, 3> part{};  ///< in their order
  bool year_first = false;    ///< the first part has four digits
  bool year_last = false;     ///< the last part has four digits
  bool points = false;        ///< points between them: day first, nothing else is usual (common practice)
  int word = -1;              ///< which part is the month as a word; -1: none
};

/// A time of day, or a time since some start.
struct WrittenClock {
  std::int64_t first = 0;  ///< hours of three parts; hours or minutes of two
  std::int64_t second = 0;
  std::int64_t rest_us = 0;  ///< seconds of three parts; what stands behind the point of two
  bool three = false;
  bool fraction = false;
  bool half_day = false;  ///< AM or PM was written, and `first` is 0..23 by it
};

/// A cell that holds a date, a clock, or both.
struct WrittenTime {
  std::optional<WrittenDate> date;
  std::optional<WrittenClock> clock;
  std::optional<std::int64_t> zone_us;  ///< east of Greenwich; nothing if none is written
};

/// Reads `04.05.2026 09:30:12.5`, `5/4/2026 9:30:12 AM`, `4 May 2026 09:30`, `09:30:12`, `30:12.5`,
/// `20260504`, in either order, with or without a zone (Z, UTC, GMT, +02:00). Which part of a date is the day
/// is not decided here.
/// @return nothing if the text is none of these.
[[nodiscard]] std::optional<WrittenTime> read_written_time(std::string_view text);

/// Reads a time of day without colons, `093012.5`: six digits before the point.
/// @return nothing if the text is no such time.
[[nodiscard]] std::optional<WrittenClock> read_compact_clock(std::string_view text);

/// Days from 1970-01-01 of the date read in this order; nothing if it is none. Two digits below 80 are years
/// from 2000 on.
[[nodiscard]] std::optional<std::int64_t> days_of(const WrittenDate& date, DateOrder order);

/// Of these orders those in which the date is one; of several only day first where points stand between its
/// parts.
[[nodiscard]] std::vector<DateOrder> orders_of(const WrittenDate& date, const std::vector<DateOrder>& orders);

}  // namespace bothways
