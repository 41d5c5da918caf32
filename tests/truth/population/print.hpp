#pragma once

#include "truth/population/tables.hpp"

namespace bothways::population {

enum class Format {
  text,      ///< tables for a terminal
  csv,       ///< the same cells, one table after the other, its title in the first column
  markdown,  ///< tables for a page
  figures    ///< every figure with the traits of its ride, as CSV
};

/// Writes to standard output.
void print(const Population& population, Format format, bool all_curves);
void print(const Table& table, Format format);

/// What holds today whatever the seed, with something to spare; says on the error stream what does not.
[[nodiscard]] bool is_within_loose_bounds(const Population& population);

}  // namespace bothways::population
