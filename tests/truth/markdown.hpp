#pragma once

#include "truth/score.hpp"

#include <cstddef>
#include <vector>

namespace bothways::truth {

/// Writes docs/accuracy.md to standard output: sentences for a rider, the grid, and the real starts.
void write_markdown(const std::vector<CellResult>& cells, std::size_t runs);

}  // namespace bothways::truth
