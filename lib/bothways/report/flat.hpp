#pragma once

#include "bothways/report/table.hpp"

#include <string>
#include <variant>
#include <vector>

namespace bothways {

// What programs get of a table: CSV and JSON both write this, so they carry the same names and numbers.

/// Nothing, text as it came, or a finite figure that is written with its decimals.
using FlatCell = std::variant<std::monostate, std::string, Number>;

/// Column names with units: an estimate gives time_s, sd_s, lo95_s, hi95_s; a point in time `start` gives
/// `start` (ISO 8601) and `start_unix_s`.
/// @param json  as keys of the contract
[[nodiscard]] std::vector<std::string> flat_names(const Table& table, bool json = false);

/// One row under these names. @param row  a row of `table`.
/// @throws std::invalid_argument  if a cell is not of its column's kind.
[[nodiscard]] std::vector<FlatCell> flat_row(const Table& table, const std::vector<Cell>& row);

}  // namespace bothways
