#pragma once

#include "bothways/report/table.hpp"

#include <cstddef>
#include <iosfwd>
#include <string>
#include <vector>

namespace bothways {

struct TextOptions {
  std::size_t width = 80;   ///< columns of the terminal
  std::size_t keys = 0;     ///< first columns repeated when a wide table is folded; 0: do not fold, leave out
  std::size_t indent = 0;   ///< blanks before each line
  bool times_only = false;  ///< points in time as time of day, when one date stands above the table
  int time_decimals = 3;    ///< of a second in points in time, 0 to 3
  std::vector<std::string> told_above;  ///< names of columns that are not shown, nor named as left out
};

/// A table for people, aligned, no line longer than the width: figures to the right, text to the left.
/// Estimates are "5.12 ± 0.03", the 95 % interval, decimals alike down a column. A table too wide is folded
/// (keys > 0) or loses its last columns, which a closing line names. Columns without any value are not shown.
void write_text(std::ostream& out, const Table& table, const TextOptions& options = {});

}  // namespace bothways
