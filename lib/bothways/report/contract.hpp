#pragma once

#include "bothways/report/result.hpp"

#include <iosfwd>

namespace bothways {

/// The whole result as one JSON object, schema "bothways/1" (docs/formats.md). Pairs stand in the log that
/// holds their first run. Figures that are not known are absent keys; strings are valid UTF-8 whatever a path
/// holds.
void write_result_json(std::ostream& out, const Result& result);

/// The same in lines: one object per log (an element of "logs" with "schema" and "clock"), then one with
/// "overall".
void write_result_jsonl(std::ostream& out, const Result& result);

/// The runs alone, as they stand in "logs", each with the "path" of its log: {"schema", "clock",
/// "clock_text", "marks", "runs": [...]}.
/// @param lines  a run a line, with the keys before "runs" in each
void write_runs_json(std::ostream& out, const Result& result, bool lines);

/// The same of the pairs; the "path" is that of the log with the first run.
void write_pairs_json(std::ostream& out, const Result& result, bool lines);

}  // namespace bothways
