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

}  // namespace bothways
