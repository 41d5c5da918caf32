#pragma once

#include "bothways/report/result.hpp"

#include <cstddef>
#include <functional>
#include <iosfwd>
#include <string>

namespace bothways {

struct SummaryOptions {
  bool explain = false;  ///< also: what is known of the receiver, how starts were judged, both clocks with sd
  bool quiet = false;    ///< no notes
  bool colour = false;   ///< headings and verdicts in bold, warnings in yellow, by the usual terminal codes
  std::size_t width = 80;
  bool clock_told = false;                ///< the clock and the ± stand above
  std::function<Instant(Instant)> local;  ///< what a clock of the place shows; empty: UTC alone is told
  std::string zone;                       ///< the name of that place's zone, "Europe/Berlin"
};

/// "09:31:41" in UTC, with the local time in brackets, "09:31:41 (11:31:41 local)", where that is told.
/// @param dated  false: the log has its own clock, which is nobody's zone
[[nodiscard]] std::string told_time(Instant at, bool dated, const SummaryOptions& options);

/// " (11:30:00 to 11:39:25 in Europe/Berlin)"; empty where local time is not told.
[[nodiscard]] std::string local_span(Instant first, Instant last, bool dated, const SummaryOptions& options);

/// A heading with an empty line before it.
void write_heading(std::ostream& out, const std::string& text, const SummaryOptions& options);

/// A sentence, folded to the width. @param inside  set in below a heading
void say(std::ostream& out, const std::string& text, const SummaryOptions& options, bool inside = true);

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
