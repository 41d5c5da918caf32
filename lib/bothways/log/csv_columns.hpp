#pragma once

#include "bothways/log/csv_names.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

struct CsvColumns {
  char delimiter = ',';
  std::vector<std::string> names;  ///< as in the file
  std::vector<CsvRole> roles;      ///< same length; no role but `channel` twice

  [[nodiscard]] std::optional<std::size_t> find(CsvRole role) const;
  [[nodiscard]] bool has_place() const;
  [[nodiscard]] bool has_speed() const;
  /// A column that sounds like the time and is not read as one.
  [[nodiscard]] std::optional<std::size_t> unread_time() const;
  /// A column that sounds like the speed and is not read as one: no unit, or an unusual name.
  [[nodiscard]] std::optional<std::size_t> unread_speed() const;
  [[nodiscard]] bool has_results() const;  ///< the columns of timed splits that this program writes
};

/// Reads a header line: delimiter (tab, else ;, else ,) and the columns.
[[nodiscard]] CsvColumns read_csv_header(std::string_view line);

/// Adds units to the names where the next line of the text holds nothing but units, as "s,deg,deg,km/h".
/// @return true if it does
bool add_units(CsvColumns& columns, std::string_view text);

/// Cells of one row, quotes taken off (RFC 4180).
/// @param continued  `cells` hold the line before, which left a quote open
/// @return false if a quote is open at the end of the line
bool split_csv(std::string_view line, char delimiter, std::vector<std::string>& cells,
               bool continued = false);

/// The first line that names a time and positions or a speed with its unit; if the first lines have none, the
/// first that is no preamble; empty if there is none either. Without a byte order mark.
[[nodiscard]] std::string_view csv_header_line(std::string_view text);

/// Two or more short names, none of which is a number: a table of something, if not of a ride.
[[nodiscard]] bool looks_like_header(const CsvColumns& columns);

/// One of the first lines is a header that names a time and positions or a speed with its unit.
[[nodiscard]] bool is_csv_log_header(std::string_view text);

/// A line before the header that is no header: blank, a # comment, or `sep=;`.
[[nodiscard]] bool is_csv_preamble(std::string_view line);

}  // namespace bothways
