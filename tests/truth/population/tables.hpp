#pragma once

#include "truth/population/score.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace bothways::population {

/// All that was drawn and judged with one seed.
struct Population {
  std::uint64_t seed = 1;
  std::vector<Judged> rides;
  std::vector<Judged> couples;
};

/// Seeds below this tune the library; docs/accuracy.md is written from others, each used once.
inline constexpr std::uint64_t first_judging_seed = 1000;
[[nodiscard]] std::string words_of_seed(std::uint64_t seed);

/// A table of words, ready to print.
struct Table {
  std::string title;
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
};

/// True runs found and other starts taken, by kind of log, with the reasons.
[[nodiscard]] Table starts_table(const Population& population);
/// Figures of one level, by kind of log and split.
[[nodiscard]] Table level_table(const Population& population, Level level);
/// Result lines of two pairs and more, by how much their pairs are seen to scatter, in quarters of each
/// split.
[[nodiscard]] Table scatter_table(const Population& population);
/// Runs of good loggers with sharp stops, the ones whose sharpness must be kept: 10 Hz and more, at most 0.07
/// m/s of noise, no smoothing over 0.05 s.
[[nodiscard]] Table sharp_table(const Population& population);
/// What is said of the wind, by vehicle.
[[nodiscard]] Table wind_table(const Population& population);
/// Words told of couples, by change and by the way the sides were ridden.
[[nodiscard]] Table words_table(const Population& population);
/// What plan promised from the side before, and what compare told, on the main split of couples.
[[nodiscard]] Table plan_table(const Population& population);
/// All of these, in the order of a report. all_curves: one for each trait, not the three asked for only.
[[nodiscard]] std::vector<Table> all_tables(const Population& population, bool all_curves);

}  // namespace bothways::population
