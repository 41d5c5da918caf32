#pragma once

#include "bothways/core/time.hpp"
#include "bothways/log/csv_clock.hpp"
#include "bothways/log/csv_names.hpp"
#include "bothways/log/iso_clock.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// Serial days of spreadsheets, from 1899-12-30, that may be dates of a ride.
inline constexpr double serial_1990 = 32'874.0;
inline constexpr double serial_2100 = 73'051.0;

/// The cells of a row that say when.
struct TimeCells {
  std::string_view date;         ///< empty without such a column
  std::string_view time;         ///< as it stands there
  std::optional<double> number;  ///< the time cell where it is a number
};

/// What a row's cells say.
struct CsvTime {
  std::optional<Instant> instant;  ///< nothing if they cannot be read
  bool has_zone = true;
  std::string question;  ///< not empty: they can be read in several ways, and this is what to do about it
};

/// Reads the times of one CSV log. Forms that a single row leaves open, the order of day and month, what a
/// number counts, minutes and seconds or hours and minutes, are settled by the first rows together.
class CsvTimes {
 public:
  /// @param order  of dates in figures, if it was told
  CsvTimes(TimeName said, std::optional<DateOrder> order);

  /// A row of those that settle the forms, in their order; the times are read afterwards.
  void learn(const TimeCells& cells);
  void settle();

  [[nodiscard]] CsvTime read(const TimeCells& cells);
  /// Every time read stops at the minute: "13/05/2026 09:30".
  [[nodiscard]] bool lacks_seconds() const { return minutes_only_ && !seconds_; }
  /// The times of the rows read are days and times; false: times of a day or since a start. Rows of the other
  /// kind are not read.
  [[nodiscard]] bool dated() const { return dated_.value_or(true); }

 private:
  enum class Count { by_size, serial_days, day_parts, compact_clock };

  [[nodiscard]] CsvTime read_number(const TimeCells& cells);
  [[nodiscard]] CsvTime read_text(const TimeCells& cells);
  [[nodiscard]] CsvTime read_clock(const TimeCells& cells, const WrittenTime& written);
  void learn_number(const TimeCells& cells);
  void settle_clock();
  void settle_unit();
  [[nodiscard]] CsvTime read_dated(const WrittenDate& date, const WrittenTime& time, std::string_view shown);
  [[nodiscard]] CsvTime read_undated(const WrittenClock& clock, std::string_view text);
  [[nodiscard]] CsvTime finished(bool dated, std::int64_t us, bool has_zone);
  void set_unit(double first);

  TimeName said_;
  std::vector<DateOrder> orders_;  ///< in which all dates so far are dates
  bool minutes_first_ = false;     ///< a clock of two parts is minutes and seconds
  std::vector<double> numbers_;    ///< of the rows that settle the forms
  std::vector<double> clocks_s_;   ///< of these rows as times of day without colons, as long as all are
  bool sure_clock_ = false;        ///< a row with a zero in front, or beside a date, cannot count seconds
  std::string question_;           ///< what the numbers leave open
  bool minutes_only_ = false;      ///< a time without seconds was read
  bool seconds_ = false;           ///< one with seconds
  Count count_ = Count::by_size;
  std::optional<double> unit_us_;  ///< of a number that counts by its size
  std::optional<bool> dated_;
  std::int64_t last_us_ = 0;
  std::int64_t wrapped_us_ = 0;  ///< whole days or hours that a clock without a date has passed
  bool wrapping_ = false;
  IsoClock clock_;
};

}  // namespace bothways
