#include "bothways/log/nmea_time.hpp"

namespace bothways {

namespace {

constexpr std::int64_t day_us = std::int64_t{86'400} * 1'000'000;

/// The instant with this time of day that lies nearest to the reference.
std::int64_t nearest(std::int64_t clock_us, std::int64_t reference_us) {
  std::int64_t days = (reference_us - clock_us) / day_us;
  const std::int64_t rest = reference_us - clock_us - days * day_us;
  if (rest > day_us / 2) {
    ++days;
  } else if (rest < -day_us / 2) {
    --days;
  }
  return days * day_us + clock_us;
}

}  // namespace

void NmeaCalendar::become_dated(std::int64_t clock_us, std::int64_t unix_us) {
  if (!dated_ && reference_us_) {
    shift_us_ = unix_us - nearest(clock_us, *reference_us_);
  }
  dated_ = true;
}

void NmeaCalendar::set_reference(std::int64_t unix_us) {
  const std::int64_t clock_us = ((unix_us % day_us) + day_us) % day_us;
  become_dated(clock_us, unix_us);
  reference_us_ = unix_us;
}

std::int64_t NmeaCalendar::place(std::int64_t clock_us, std::optional<std::int64_t> day) {
  std::int64_t unix_us = clock_us;
  if (day) {
    unix_us = *day * day_us + clock_us;
    become_dated(clock_us, unix_us);
  } else if (reference_us_) {
    unix_us = nearest(clock_us, *reference_us_);
  }
  reference_us_ = unix_us;
  return unix_us;
}

}  // namespace bothways
