#pragma once

#include "bothways/log/log.hpp"
#include "cli/zone.hpp"

#include <optional>
#include <string>
#include <string_view>

namespace bothways::cli {

/// A time as a rider writes it: of day, or with its date.
struct WrittenTime {
  Instant at;          ///< counted from 1970-01-01 if no date was written
  bool dated = false;  ///< a date was written
  bool zoned = false;  ///< Z or an offset was written: UTC, else local time
};

/// From one time up to another; a side that is not written is open.
struct TimeWindow {
  std::optional<WrittenTime> from;
  std::optional<WrittenTime> to;

  [[nodiscard]] bool open() const { return !from && !to; }
};

/// The same in UTC, for one log: from <= t < until.
struct TimeSpan {
  Instant from;
  Instant until;
};

/// "10:30", "10:30:15.5", "10:30Z", "2026-05-04 10:30".
/// @throws std::invalid_argument  with a sentence that quotes the text and says what can be written.
[[nodiscard]] WrittenTime parse_written_time(std::string_view text);

/// "10:30-11:10", blanks around the hyphen allowed; "10:30" alone begins an open window.
/// @throws std::invalid_argument  as above, or if the window ends before it begins.
[[nodiscard]] TimeWindow parse_time_window(std::string_view text);

/// When a log was recorded: all that a window needs to know of it.
struct LogExtent {
  bool dated = true;  ///< as Log has it
  Instant first;      ///< time of the first fix
  Instant last;       ///< time of the last fix
};

/// @param log  with at least one fix
[[nodiscard]] LogExtent extent_of(const Log& log);

/// What the window is in a log: a time of day is that of the day on which the log begins, or of a later one
/// if only that lies within it; an end that would lie before its beginning is of the next day. An open side
/// is that of the log. In a log without a date times of day are the log's own, and dates never fit.
[[nodiscard]] TimeSpan span_in(const TimeWindow& window, const LogExtent& log, const Zone& zone);

}  // namespace bothways::cli
