#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/report/summary.hpp"

#include <iosfwd>
#include <string>
#include <utility>
#include <vector>

namespace bothways {

/// The components of one uncertainty or several, each with its sd, a column a split [GUM] 5.
void write_budget(std::ostream& out, const std::string& heading,
                  const std::vector<std::pair<std::string, Budget>>& columns, const SummaryOptions& options);

/// Those of a result line each, and what would tell more of the wind.
void explain_budget(std::ostream& out, const Result& result, const SummaryOptions& options);

}  // namespace bothways
