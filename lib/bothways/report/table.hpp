#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/core/time.hpp"

#include <string>
#include <variant>
#include <vector>

namespace bothways {

/// What the cells of a column hold. A cell may always be empty.
enum class ColumnKind { text, number, estimate, time };

/// A column. Programs see name and unit joined, `heading_deg`; an estimate becomes four columns:
/// `time_s, sd_s, lo95_s, hi95_s`, with `name` (if any) and an underscore before each.
struct Column {
  std::string name;  ///< lower case, words joined by underscores; may be empty for an estimate
  std::string unit;  ///< "s", "deg", "mps"; empty if it has none
  ColumnKind kind = ColumnKind::text;
  std::string heading;  ///< what people read; empty: name and unit
  std::string json;     ///< key of the contract where that is another than name and unit; text or number only
};

/// A figure without an interval, and the decimals it is written with.
struct Number {
  double value = 0.0;
  int decimals = 0;

  [[nodiscard]] bool operator==(const Number&) const = default;
};

/// A point in time, and whether the day is known.
struct TimeCell {
  Instant at;
  bool dated = true;  ///< false: written as a time of day
};

/// Empty, text, number, estimate or time. Figures that are not finite are written as empty.
using Cell = std::variant<std::monostate, std::string, Number, Estimate, TimeCell>;

/// Rows under named columns: what each result becomes, and what each output format writes.
struct Table {
  std::string name;  ///< "runs", "pairs", ...: the word for programs
  std::vector<Column> columns;
  std::vector<std::vector<Cell>> rows;  ///< each as long as `columns`
};

}  // namespace bothways
