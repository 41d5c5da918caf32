#pragma once

#include "bothways/report/table.hpp"

#include <iosfwd>
#include <string>
#include <string_view>

namespace bothways {

/// A table as CSV after [RFC4180]: UTF-8, CRLF, first line the column names with units, cells quoted where
/// they must be. Text that a spreadsheet would run as a formula (= + - @ first) gets an apostrophe before it;
/// control characters and bytes that are no UTF-8 are escaped (escape.hpp), so a record is one line.
/// @param header  false: rows only, to continue a table written in parts
void write_csv(std::ostream& out, const Table& table, bool header = true);

/// One text cell as written between two commas.
[[nodiscard]] std::string csv_field(std::string_view text);

}  // namespace bothways
