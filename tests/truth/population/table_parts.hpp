#pragma once

#include "truth/population/tables.hpp"

namespace bothways::population {

/// 97.5 of 0.975.
[[nodiscard]] std::string percent(double share);

/// Columns of a Summary, and their cells; LOW and HIGH: the clustered interval leaves 93 to 97 % out.
[[nodiscard]] const std::vector<std::string>& summary_head();
void append_summary(std::vector<std::string>& row, const Summary& summary);

/// Kinds of log as rows of a table: `kinds` stands for all of them together.
[[nodiscard]] bool is_of(const Judged& ride, int kind);
[[nodiscard]] std::string kind_name(int kind);

/// Coverage and width of runs to the first mark against traits of the ride: the three that are always asked
/// for, or all.
void add_curves(const Population& population, bool all_curves, std::vector<Table>& tables);

}  // namespace bothways::population
