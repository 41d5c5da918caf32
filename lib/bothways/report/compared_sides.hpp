#pragma once

#include "bothways/report/compared.hpp"
#include "bothways/report/summary.hpp"

#include <iosfwd>

namespace bothways {

/// What each side of a comparison is: its runs, days, logs or their parts, runs taken out, conditions.
void write_sides(std::ostream& out, const Compared& compared, const SummaryOptions& options);

}  // namespace bothways
