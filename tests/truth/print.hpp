#pragma once

#include "truth/score.hpp"

#include <cstddef>

namespace bothways::truth {

/// 100 part / whole; 0 of nothing is 0.
[[nodiscard]] double percent(std::size_t part, std::size_t whole);

/// How results stand on standard output.
enum class Format {
  text,     ///< a table a cell
  csv,      ///< a row a cell, split and clock
  markdown  ///< docs/accuracy.md, by write_markdown()
};

/// "LOW", "HIGH": coverage outside 92..98 %; "WILD": rms above 1.6 times the median error. Needs 20 figures.
[[nodiscard]] const char* remark(const Summary& found);

/// For text and csv.
void print_head(Format format);
void print(Format format, const CellResult& cell);

}  // namespace bothways::truth
