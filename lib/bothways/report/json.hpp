#pragma once

#include "bothways/report/table.hpp"

#include <iosfwd>
#include <string_view>

namespace bothways {

/// Name and version of the output contract (docs/formats.md).
inline constexpr const char* json_schema = "bothways/1";

/// A table as one JSON object [RFC8259]: {"schema", "table": name, "rows": [{column name: value}]}.
/// Empty cells are absent keys; strings are valid UTF-8 whatever bytes the text holds.
/// @param clock  "rollout" or "movement", written as "clock"; empty where no time is split
void write_json(std::ostream& out, const Table& table, std::string_view clock = "");

/// A table as JSON lines: one object per row, in UTF-8, each ended by a line feed.
void write_jsonl(std::ostream& out, const Table& table);

}  // namespace bothways
