#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace bothways {

/// Untrusted text (paths, notes) made safe for a terminal and for one line of a file: control characters
/// (C0, DEL, C1, and the Unicode marks that turn the writing direction) and bytes that are no UTF-8 come out
/// as \x1b or \u202e; all other UTF-8 is kept. The result is valid UTF-8 without a line break.
[[nodiscard]] std::string escaped(std::string_view text);

/// Bytes that are no UTF-8 come out as \xff; the rest, control characters too, is kept. For JSON strings,
/// whose writer escapes control characters itself.
[[nodiscard]] std::string valid_utf8(std::string_view text);

/// Columns that valid UTF-8 takes on a terminal: one a code point, none for combining marks, two for the
/// wide East Asian blocks and pictographs. Good enough to align a table.
[[nodiscard]] std::size_t display_width(std::string_view text);

/// Nothing but the printable characters of ASCII.
[[nodiscard]] bool is_plain(std::string_view text);

}  // namespace bothways
