#include "cli/time_window.hpp"

#include "bothways/core/microseconds.hpp"
#include "bothways/core/text.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>

namespace bothways::cli {

namespace {

/// The latest midnight at or before a time.
Instant day_of(Instant time) {
  const std::int64_t rest = ((time.unix_us % us_per_day) + us_per_day) % us_per_day;
  return {time.unix_us - rest};
}

std::optional<ParsedTime> read_time(const std::string& text) {
  const auto colons = std::count(text.begin(), text.end(), ':');
  return colons == 0 ? std::nullopt : parse_iso8601(text);
}

std::optional<WrittenTime> written(std::string_view text) {
  const std::string plain(trimmed(text));
  if (const auto dated = read_time(plain)) {
    return WrittenTime{dated->instant, true, dated->has_zone};
  }
  if (const auto clock = read_time("1970-01-01T" + plain)) {
    return WrittenTime{clock->instant, false, clock->has_zone};
  }
  return std::nullopt;
}

std::invalid_argument no_time(std::string_view text) {
  return std::invalid_argument(
      "'" + std::string(trimmed(text)) +
      "' is no time; write 10:30, 10:30:15 or 2026-05-04 10:30, with Z behind it for "
      "UTC");
}

/// Where a window written as a text may be parted.
constexpr std::array<std::string_view, 4> hyphens{"-", "\xE2\x80\x93", "\xE2\x80\x94", " to "};

/// Turns what riders write into UTC.
class LogClock {
 public:
  LogClock(const LogExtent& log, const Zone& zone) : log_(log), zone_(log.dated ? zone : Zone()) {}

  /// The time on the day that lies `days` after the one on which the log begins.
  [[nodiscard]] Instant on_day(const WrittenTime& time, std::int64_t days) const {
    if (time.dated) {
      return time.zoned ? time.at : zone_.utc(time.at);
    }
    const Zone& zone = time.zoned ? utc_ : zone_;
    const Instant midnight = day_of(zone.local(log_.first));
    return zone.utc({midnight.unix_us + days * us_per_day + time.at.unix_us});
  }

  /// On the day of the log's beginning, or on the next if only that is not before `earliest`.
  [[nodiscard]] Instant within(const WrittenTime& time, Instant earliest) const {
    const Instant next = on_day(time, 1);
    const bool is_next = on_day(time, 0) < earliest && next <= log_.last;
    return is_next ? next : on_day(time, 0);
  }

 private:
  const LogExtent& log_;
  Zone zone_;
  Zone utc_;
};

}  // namespace

WrittenTime parse_written_time(std::string_view text) {
  if (const auto time = written(text)) {
    return *time;
  }
  throw no_time(text);
}

TimeWindow parse_time_window(std::string_view text) {
  for (const std::string_view hyphen : hyphens) {
    for (std::size_t at = text.find(hyphen); at != std::string_view::npos; at = text.find(hyphen, at + 1)) {
      const auto from = written(text.substr(0, at));
      const auto to = written(text.substr(at + hyphen.size()));
      if (!from || !to) {
        continue;
      }
      if (from->dated && to->dated && to->at <= from->at) {
        throw std::invalid_argument("'" + std::string(trimmed(text)) + "' ends before it begins");
      }
      return {.from = from, .to = to};
    }
  }
  return {.from = parse_written_time(text), .to = std::nullopt};  // last: "-11:10" could be an offset
}

LogExtent extent_of(const Log& log) {
  return {.dated = log.dated, .first = log.fixes.front().time, .last = log.fixes.back().time};
}

TimeSpan span_in(const TimeWindow& window, const LogExtent& log, const Zone& zone) {
  const Instant first = log.first;
  TimeSpan span{first, {log.last.unix_us + 1}};
  if (!log.dated && ((window.from && window.from->dated) || (window.to && window.to->dated))) {
    return {first, first};
  }
  const LogClock clock(log, zone);
  if (window.from) {
    span.from = std::max(first, clock.within(*window.from, first));
  }
  if (span.from >= span.until) {
    return {span.from, span.from};
  }
  if (window.to && !window.to->dated && window.from) {
    const Instant begin = clock.within(*window.from, first);
    Instant end = clock.on_day(*window.to, 0);
    for (std::int64_t day = 1; end <= begin; ++day) {
      end = clock.on_day(*window.to, day);
    }
    span.until = std::min(span.until, end);
  } else if (window.to) {
    span.until = std::min(span.until, clock.within(*window.to, first));
  }
  span.until = std::max(span.from, span.until);
  return span;
}

}  // namespace bothways::cli
