#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>

namespace bothways {

/// Turns times of day into instants. The date comes from the sentence itself (RMC), else from the last one
/// that was known (RMC, ZDA or the fix before), and moves on by a day when the time of day runs back by more
/// than an hour. Before any date days count from 1970-01-01.
class NmeaCalendar {
 public:
  /// A date from ZDA: holds for the times of day that follow.
  void set_reference(std::int64_t unix_us);

  /// @param clock_us  since midnight UTC
  /// @param day       date of the same sentence, if it has one
  [[nodiscard]] std::int64_t place(std::int64_t clock_us, std::optional<std::int64_t> day);

  [[nodiscard]] bool dated() const { return dated_; }

  /// What to add to all times that place() gave before the first date was known; final once dated().
  [[nodiscard]] std::int64_t undated_shift_us() const { return shift_us_; }

 private:
  void become_dated(std::int64_t clock_us, std::int64_t unix_us);

  bool dated_ = false;
  std::optional<std::int64_t> reference_us_;
  std::int64_t shift_us_ = 0;
};

}  // namespace bothways
