#pragma once

#include "bothways/report/result.hpp"
#include "bothways/report/table.hpp"
#include "bothways/speed/series.hpp"

#include <cstddef>
#include <cstdint>
#include <string>

namespace bothways {

// Each value of the stages as a table. Columns: docs/formats.md.

/// A row per fix from `first`, at most `count`.
[[nodiscard]] Table fixes_table(const Log& log, std::size_t first = 0, std::size_t count = SIZE_MAX);

/// A row per row of one stretch from `first`, at most `count`.
/// @param number  of the stretch, from 1, as a column
/// @param path    of the log, as a column
/// @param dated   false: times of day
[[nodiscard]] Table stretch_table(const Stretch& stretch, std::size_t number, SpeedSource source,
                                  const std::string& path, bool dated, std::size_t first = 0,
                                  std::size_t count = SIZE_MAX);

/// Tidy: a row per run and split.
[[nodiscard]] Table runs_table(const Result& result);

/// A row per run, four columns per split.
[[nodiscard]] Table wide_runs_table(const Result& result);

/// A row per pair and split.
[[nodiscard]] Table pairs_table(const Result& result);

/// A table to keep: a row per result, its column `kind` saying of what: "run" and "pair", one per split, and
/// "overall"; with the day, the set-up, masses and weather of each.
/// @param runs  false: without the runs
[[nodiscard]] Table results_table(const Result& result, bool runs);

}  // namespace bothways
