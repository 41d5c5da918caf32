#pragma once

#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace bothways {

/// A point in time: UTC, whole microseconds since 1970-01-01T00:00:00Z, leap seconds not counted.
struct Instant {
  std::int64_t unix_us = 0;  ///< microseconds

  friend constexpr auto operator<=>(const Instant&, const Instant&) = default;
};

/// later - earlier in seconds, exact to the microsecond for spans below 285 years.
[[nodiscard]] constexpr double seconds_between(Instant earlier, Instant later) {
  return static_cast<double>(later.unix_us - earlier.unix_us) * 1e-6;
}

/// Instant shifted by seconds (rounded to the microsecond).
[[nodiscard]] Instant shifted(Instant from, double seconds);

/// Days from 1970-01-01 of a proleptic Gregorian date, or nothing if there is no such day.
[[nodiscard]] std::optional<std::int64_t> days_from_civil(int year, int month, int day);

/// What parse_iso8601 found besides the instant.
struct ParsedTime {
  Instant instant;
  bool has_zone = false;  ///< false: no Z or offset was written, UTC assumed
};

/// Reads an ISO 8601 / xsd:dateTime time stamp: `2026-05-04T09:30:12.34Z`, offsets `+03:00`, `+0300`, `+03`,
/// a blank for `T`, one-digit month, day or hour, comma for the decimal point, a Unicode minus in the offset,
/// 24:00:00, and second 60 (read as the next minute's first second). Digits past the microsecond are cut off.
/// White space around is ignored. Locale-free.
/// @return nothing if the text is no time stamp.
[[nodiscard]] std::optional<ParsedTime> parse_iso8601(std::string_view text);

/// `2026-05-04T09:30:12.340Z`: always UTC, always milliseconds, rounded to the nearest.
[[nodiscard]] std::string format_iso8601(Instant instant);

}  // namespace bothways
