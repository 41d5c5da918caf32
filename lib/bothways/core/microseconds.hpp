#pragma once

#include <cstdint>

namespace bothways {

// Of Instant::unix_us; a day has no leap second.
inline constexpr std::int64_t us_per_s = 1'000'000;
inline constexpr std::int64_t us_per_minute = 60 * us_per_s;
inline constexpr std::int64_t us_per_hour = 60 * us_per_minute;
inline constexpr std::int64_t us_per_day = 24 * us_per_hour;

}  // namespace bothways
