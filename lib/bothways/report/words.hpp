#pragma once

#include "bothways/core/time.hpp"
#include "bothways/speed/series.hpp"

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// One of N, NE, E, SE, S, SW, W, NW. @param heading_deg  clockwise from north, any finite value.
[[nodiscard]] std::string compass_word(double heading_deg);

/// "E 87°"; empty if the heading is not finite.
[[nodiscard]] std::string direction_words(double heading_deg);

/// "09:30:12", UTC, rounded to the second.
[[nodiscard]] std::string time_of_day(Instant at);

/// "2026-05-04"
[[nodiscard]] std::string date_words(Instant at);

/// ISO 8601 in UTC with milliseconds; a time of day alone, "09:30:12.340Z", if the day is not known.
[[nodiscard]] std::string iso_time(Instant at, bool dated);

/// "speed as the receiver reported it"
[[nodiscard]] std::string source_words(SpeedSource source);

/// How the marks came about where nobody asked for any, with a blank before it; empty if they were asked for.
[[nodiscard]] std::string marks_words(bool chosen);

/// "1 run", "3 runs".
[[nodiscard]] std::string count_of(std::size_t n, std::string_view one, std::string_view many);

/// "3050 fixes"; of a log whose rows repeat readings or are drawn between "3050 rows from 305 readings".
/// @param readings  0: each fix is one
[[nodiscard]] std::string count_of_fixes(std::size_t fixes, std::size_t readings);

/// What happens to a word that alone is longer than a line.
enum class LongWords { broken, whole };

/// Lines of at most `width` columns, broken at blanks (inside a word only if it alone is too long and may be
/// broken); the first line starts with `first`, the others with `rest`. No line break at the end of the last.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t width, std::string_view first = "",
                                  std::string_view rest = "", LongWords long_words = LongWords::broken);

}  // namespace bothways
