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

/// The same in parts: the head, the rows of one table after the other (`first` for the first), the foot.
void write_json_head(std::ostream& out, std::string_view name, std::string_view clock = "");
void write_json_rows(std::ostream& out, const Table& table, bool first);
void write_json_foot(std::ostream& out);

/// A table as JSON lines: one object per row, in UTF-8, each ended by a line feed.
void write_jsonl(std::ostream& out, const Table& table);

}  // namespace bothways
