#pragma once

#include "bothways/report/result.hpp"

#include <cstddef>
#include <iosfwd>
#include <string>

namespace bothways {

struct SummaryOptions {
  bool explain = false;  ///< also: what is known of the receiver, how starts were judged, both clocks with sd
  bool quiet = false;    ///< no notes
  bool colour = false;   ///< headings and verdicts in bold, warnings in yellow, by the usual terminal codes
  std::size_t width = 80;
  bool clock_told = false;  ///< the clock and the ± stand above
};

/// A heading with an empty line before it.
void write_heading(std::ostream& out, const std::string& text, const SummaryOptions& options);

/// "Take care: ..." in lines of its own.
void write_warning(std::ostream& out, const std::string& text, const SummaryOptions& options);

/// The parts of the text for people, each with its heading; nothing is written where there is nothing to say,
/// except that write_summary always writes the logs and what became of their starts.
void write_logs(std::ostream& out, const Result& result, const SummaryOptions& options);
void write_mixed_setups(std::ostream& out, const Result& result, const SummaryOptions& options);
void write_runs(std::ostream& out, const Result& result, const SummaryOptions& options);
void write_left_out(std::ostream& out, const Result& result, const SummaryOptions& options);
void write_pairs(std::ostream& out, const Result& result, const SummaryOptions& options);
void write_overall(std::ostream& out, const Result& result, const SummaryOptions& options);
void write_notes(std::ostream& out, const Result& result, const SummaryOptions& options);

/// All of it, the answer first: the two-way result and what to take care of, pairs, runs, starts left out,
/// logs, notes.
void write_summary(std::ostream& out, const Result& result, const SummaryOptions& options);

/// The same as far as the runs, or the pairs.
void write_runs_summary(std::ostream& out, const Result& result, const SummaryOptions& options);
void write_pairs_summary(std::ostream& out, const Result& result, const SummaryOptions& options);

}  // namespace bothways
