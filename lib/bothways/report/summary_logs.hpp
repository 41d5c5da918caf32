#pragma once

#include "bothways/report/summary.hpp"

#include <cstddef>
#include <iosfwd>

namespace bothways {

/// More logs than this are told in a table and their left-out starts by reason, unless all is to be
/// explained.
inline constexpr std::size_t most_told = 3;

/// Which runs are of which of the logs, where they are several; nothing where the list of logs says it
/// already.
void write_runs_of_logs(std::ostream& out, const Result& result, const SummaryOptions& options);

}  // namespace bothways
