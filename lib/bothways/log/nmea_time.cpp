#include "bothways/log/nmea_time.hpp"

#include "bothways/core/microseconds.hpp"

namespace bothways {

namespace {

/// The first instant with this time of day that is not more than an hour before the reference: a little out
/// of order stays in its day, anything else that runs back is the next day.
std::int64_t following(std::int64_t clock_us, std::int64_t reference_us) {
  const std::int64_t earliest_us = reference_us - us_per_hour;
  const std::int64_t behind_us = earliest_us - clock_us;
  const std::int64_t days =
      behind_us > 0 ? (behind_us + us_per_day - 1) / us_per_day : -(-behind_us / us_per_day);
  return days * us_per_day + clock_us;
}

}  // namespace

void NmeaCalendar::become_dated(std::int64_t clock_us, std::int64_t unix_us) {
  if (!dated_ && reference_us_) {
    shift_us_ = unix_us - following(clock_us, *reference_us_);
  }
  dated_ = true;
}

void NmeaCalendar::set_reference(std::int64_t unix_us) {
  const std::int64_t clock_us = ((unix_us % us_per_day) + us_per_day) % us_per_day;
  become_dated(clock_us, unix_us);
  reference_us_ = unix_us;
}

std::int64_t NmeaCalendar::place(std::int64_t clock_us, std::optional<std::int64_t> day) {
  std::int64_t unix_us = clock_us;
  if (day) {
    unix_us = *day * us_per_day + clock_us;
    become_dated(clock_us, unix_us);
  } else if (reference_us_) {
    unix_us = following(clock_us, *reference_us_);
  }
  reference_us_ = unix_us;
  return unix_us;
}

}  // namespace bothways
