#pragma once

#include "bothways/report/table.hpp"

#include <iosfwd>
#include <string>
#include <string_view>

namespace bothways {

/// How CSV is written; the default is that of [RFC4180].
struct CsvDialect {
  char separator = ',';
  char decimal = '.';
  bool mark = false;  ///< a byte order mark first, by which spreadsheets know UTF-8
};

/// A table as CSV after [RFC4180]: UTF-8, CRLF, first line the column names with units, cells quoted where
/// they must be. Text that a spreadsheet would run as a formula (= + - @ first) gets an apostrophe before it;
/// control characters and bytes that are no UTF-8 are escaped (escape.hpp), so a record is one line.
/// @param header  false: rows only, to continue a table written in parts
/// @param dialect  what stands between cells and in figures
void write_csv(std::ostream& out, const Table& table, bool header = true, const CsvDialect& dialect = {});

/// One text cell as written between two separators.
[[nodiscard]] std::string csv_field(std::string_view text, const CsvDialect& dialect = {});

}  // namespace bothways
