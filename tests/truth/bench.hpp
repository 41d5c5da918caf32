#pragma once

#include "truth/cell.hpp"
#include "truth/score.hpp"

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace bothways::truth {

struct BenchOptions {
  std::vector<std::string> filters;  ///< a cell is run if its name contains one of them; empty: all
  std::size_t runs = 200;            ///< true runs a cell, at least
  bool short_version = false;        ///< only the cells of the short version
  bool told = false;                 ///< the receiver's noise is told instead of estimated
  bool oracle = false;               ///< both, and the ratio of the rms errors
};

/// Simulates, times, and scores. `done` is called with each finished cell, in the order of the grid.
void run_bench(const BenchOptions& options, const std::function<void(const CellResult&)>& done);

}  // namespace bothways::truth
