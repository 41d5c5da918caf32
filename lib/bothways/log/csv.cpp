#include "bothways/core/error.hpp"
#include "bothways/core/text.hpp"
#include "bothways/log/bytes.hpp"
#include "bothways/log/csv_columns.hpp"
#include "bothways/log/csv_numbers.hpp"
#include "bothways/log/csv_time.hpp"
#include "bothways/log/csv_words.hpp"
#include "bothways/log/lines.hpp"
#include "bothways/log/number.hpp"
#include "bothways/log/readers.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr std::size_t most_channels = 32;
/// So many of the first rows settle what dates, times and commas mean.
constexpr std::size_t rows_to_learn = 500;

constexpr const char* time_forms =
    "2026-05-04T09:30:12.5Z, 2026-05-04 09:30:12, 04.05.2026 09:30:12, 5/4/2026 9:30:12 AM, 09:30:12.5, "
    "30:12.5, seconds or milliseconds, or days of a spreadsheet";

class CsvReader {
 public:
  explicit CsvReader(const ReaderInput& input)
      : lines_(input.source, input.options.line_bytes),
        name_(input.name),
        options_(input.options),
        bytes_(input.bytes) {}

  Draft read() {
    read_header();
    learn(lines_.buffered());
    while (!draft_.full && next_row()) {
      if (lines_.terminated() || is_whole()) {
        take_row();
      } else {
        cut_.add(lines_.number());
      }
    }
    if (draft_.fixes.empty() && no_time_.count > 0) {
      throw LogError(name_, no_time_.first_line,
                     "none of its times can be read, such as " + bad_time_ + "; write them as " + time_forms);
    }
    require_seconds();
    draft_.dated = times_.dated();
    drop_wordy_channels();
    add_notes();
    return std::move(draft_);
  }

 private:
  /// Times that stop at the minute, many rows to each, as a spreadsheet saves what it shows.
  void require_seconds() const {
    const auto& fixes = draft_.fixes;
    const auto same = std::adjacent_find(fixes.begin(), fixes.end(),
                                         [](const Fix& a, const Fix& b) { return a.time == b.time; });
    if (times_.lacks_seconds() && same != fixes.end()) {
      throw LogError(name_, first_line_,
                     "its times have no seconds, such as " + first_time_ +
                         "; show them as hh:mm:ss.000 in the spreadsheet and save the sheet again");
    }
  }

  void read_header() {
    const std::string header(trimmed(csv_header_line(lines_.buffered())));
    const auto without_mark = [](std::string_view line) {
      return trimmed(line.substr(line.starts_with(utf8_bom) ? utf8_bom.size() : 0));
    };
    while (lines_.next() && without_mark(lines_.line()) != header) {
    }
    columns_ = read_csv_header(header);
    if (add_units(columns_, lines_.buffered())) {
      while (lines_.next() && trimmed(lines_.line()).empty()) {
      }
    }
    if (!columns_.find(CsvRole::time)) {
      throw LogError(name_, lines_.number(),
                     "the header names no time column; call it time, time_unix_s or time_unix_ms");
    }
    if (!columns_.has_place() && !columns_.has_speed()) {
      throw LogError(
          name_, lines_.number(),
          "the header names neither lat and lon nor a speed with its unit; call them lat, lon, and "
          "speed_mps, speed_kmh, speed_mph or speed_kn");
    }
    times_ =
        CsvTimes(time_name(plain_name(columns_.names[*columns_.find(CsvRole::time)])), options_.date_order);
    for (std::size_t i = 0; i < columns_.roles.size(); ++i) {
      if (is_speed(columns_.roles[i])) {
        speed_ = columns_.roles[i];
      }
      const bool channel = columns_.roles[i] == CsvRole::channel && !columns_.names[i].empty();
      if (channel && channel_columns_.size() < most_channels) {
        channel_columns_.push_back(i);
        draft_.channels.push_back({columns_.names[i], {}});
      }
    }
  }

  /// Looks ahead at rows of one line each.
  void learn(std::string_view text) {
    for (std::size_t rows = 0; rows < rows_to_learn && !text.empty();) {
      const auto end = text.find_first_of("\r\n");
      if (end == std::string_view::npos) {
        break;  // not whole
      }
      if (end > 0 && text.front() != '#' && split_csv(text.substr(0, end), columns_.delimiter, cells_)) {
        std::for_each(cells_.begin(), cells_.end(), [this](const std::string& one) { numbers_.learn(one); });
        ++rows;
        learned_.emplace_back(cell(CsvRole::date), cell(CsvRole::time));
      }
      text.remove_prefix(end + 1);
    }
    for (const auto& [date, time] : learned_) {
      times_.learn({date, time, numbers_.read(time)});
    }
    times_.settle();
    learned_.clear();
  }

  /// Moves to the next row that is no blank or comment line; joins lines while a quote is open.
  bool next_row() {
    while (lines_.next()) {
      if (trimmed(lines_.line()).empty() || lines_.line().front() == '#') {
        continue;
      }
      row_line_ = lines_.number();
      if (split_csv(lines_.line(), columns_.delimiter, cells_)) {
        return true;
      }
      std::size_t row_bytes = lines_.line().size();
      while (lines_.next() && row_bytes < options_.line_bytes) {
        row_bytes += lines_.line().size() + 1;
        if (split_csv(lines_.line(), columns_.delimiter, cells_, true)) {
          return true;
        }
      }
      bad_row_.add(row_line_);
    }
    return false;
  }

  /// Tells whether a last row without a line end is whole: it has a cell for each column, and its last figure
  /// is as long as that column's figures are: by decimals, of whole numbers by digits.
  [[nodiscard]] bool is_whole() const {
    if (cells_.size() != columns_.names.size()) {
      return false;
    }
    const std::string_view last = trimmed(cells_.back());
    const std::size_t decimals = decimals_of(last);
    const bool long_enough = most_decimals_ > 0 ? decimals >= most_decimals_ : last.size() >= longest_last_;
    return longest_last_ > 0 && long_enough && number(last).has_value();
  }

  void measure_last_cell() {
    const std::string_view last = trimmed(cells_.back());
    most_decimals_ = std::max(most_decimals_, decimals_of(last));
    longest_last_ = std::max(longest_last_, last.size());
  }

  [[nodiscard]] std::string_view cell(CsvRole role) const {
    const auto at = columns_.find(role);
    return at && *at < cells_.size() ? trimmed(cells_[*at]) : std::string_view{};
  }

  [[nodiscard]] std::optional<double> number(std::string_view text) const { return numbers_.read(text); }
  [[nodiscard]] double value(CsvRole role) const { return number(cell(role)).value_or(unknown); }

  std::optional<Instant> row_time() {
    const std::string_view text = cell(CsvRole::time);
    const std::string_view date = cell(CsvRole::date);
    const CsvTime time = times_.read({date, text, number(text)});
    if (first_line_ == 0) {
      first_line_ = row_line_;
      first_time_ = quoted(text);
    }
    if (!time.question.empty()) {
      throw LogError(name_, row_line_, time.question);
    }
    if (!time.instant) {
      bad_time_ = no_time_.count == 0
                      ? quoted(std::string(date) + (date.empty() ? "" : " ") + std::string(text))
                      : bad_time_;
      no_time_.add(row_line_);
    } else if (!time.has_zone) {
      no_zone_.add(row_line_);
    }
    return time.instant;
  }

  void take_row() {
    measure_last_cell();
    const auto time = row_time();
    if (!time) {
      return;
    }
    Fix fix;
    fix.time = *time;
    fix.lat_deg = value(CsvRole::lat);
    fix.lon_deg = value(CsvRole::lon);
    fix.ele_m = value(CsvRole::ele);
    fix.speed_mps = as_mps(speed_, value(speed_));
    fix.speed_sd_mps = value(CsvRole::speed_sd);
    fix.course_deg = value(CsvRole::course);
    fix.hdop = value(CsvRole::hdop);
    fix.position_sd_m = value(CsvRole::position_sd);
    const double satellites = value(CsvRole::satellites);
    fix.satellites = satellites >= 0.0 && satellites < 1000.0 ? static_cast<int>(satellites) : -1;
    draft_.make_room(lines_.used(), bytes_);
    draft_.add(fix, row_line_, options_.fixes);
    for (std::size_t i = 0; i < channel_columns_.size() && !draft_.full; ++i) {
      const std::size_t column = channel_columns_[i];
      const auto figure = column < cells_.size() ? number(cells_[column]) : std::nullopt;
      draft_.channels[i].value.push_back(figure.value_or(unknown));
    }
  }

  /// A column without any number is no channel.
  void drop_wordy_channels() {
    const auto wordy = [](const Channel& channel) {
      return std::none_of(channel.value.begin(), channel.value.end(), is_known);
    };
    std::erase_if(draft_.channels, wordy);
  }

  void add_notes() {
    std::vector<Note>& notes = draft_.notes;
    add_note(notes, "no-time", no_time_, "row was left out because its time cannot be read, " + bad_time_,
             "rows were left out because their time cannot be read, such as " + bad_time_);
    add_note(notes, "no-zone", no_zone_, "time has no zone (no Z at its end); it was taken as UTC",
             "times have no zone (no Z at their end); they were taken as UTC");
    add_note(notes, "bad-row", bad_row_, "row was left out because a quote in it never ends",
             "rows were left out because a quote in them never ends");
    add_note(notes, "long-line", lines_.too_long(), "line is too long to be part of a log and was left out",
             "lines are too long to be part of a log and were left out");
    if (const auto unread = columns_.unread_speed(); unread && !columns_.has_speed()) {
      notes.push_back(
          {"speed-without-unit",
           "the column \"" + columns_.names[*unread] +
               "\" does not say that it is a speed in a known unit and was not used; speed comes "
               "from the positions (name it speed_mps, speed_kmh, speed_mph or speed_kn to have it "
               "used)",
           0});
    }
    if (cut_.count > 0) {
      notes.push_back(
          {"cut-off",
           "the last line has no line end and its last figure may be cut off; the line was left out",
           cut_.first_line});
    }
    if (!draft_.dated) {
      notes.push_back({"no-date", "the times are times of day or count from some start, without a date", 0});
    }
  }

  LineReader lines_;
  std::string name_;
  ReadOptions options_;
  std::size_t bytes_;
  CsvColumns columns_;
  std::vector<std::size_t> channel_columns_;
  std::vector<std::string> cells_;
  std::size_t row_line_ = 0;
  std::size_t most_decimals_ = 0;  ///< in the last column
  std::size_t longest_last_ = 0;   ///< characters there
  std::vector<std::pair<std::string, std::string>>
      learned_;  ///< cells of date and time that were looked at ahead
  CsvNumbers numbers_;
  CsvTimes times_{{}, {}};
  CsvRole speed_ = CsvRole::speed_mps;
  std::string bad_time_;    ///< the first that could not be read
  std::string first_time_;  ///< of the first row, which is in this line
  std::size_t first_line_ = 0;
  Draft draft_;
  Tally no_time_;
  Tally no_zone_;
  Tally bad_row_;
  Tally cut_;
};

}  // namespace

Draft read_csv(const ReaderInput& input) {
  return CsvReader(input).read();
}

}  // namespace bothways
