#pragma once

#include "bothways/report/summary.hpp"
#include "bothways/run/ride.hpp"

#include <iosfwd>
#include <span>
#include <string>
#include <vector>

namespace bothways {

/// Whether a note of this code tells that the figures mean something else than they seem to: another unit or
/// day, a set-up that was not read, a log that counts once. Such notes are never hidden.
[[nodiscard]] bool is_warning(const std::string& code);

/// The notes of logs, one a kind, its text a sentence, in order of appearance: with the log where there are
/// several, the line where it means something, and in how many logs the same was found.
/// @param warnings  those that are warnings, or else the others
[[nodiscard]] std::vector<Note> notes_by_kind(std::span<const Ride* const> rides, bool warnings);

/// Pointers to them.
[[nodiscard]] std::vector<const Ride*> pointers_to(const std::vector<Ride>& rides);

/// "Take care: ..." for each warning of the logs; nothing where there is none.
void write_warnings(std::ostream& out, std::span<const Ride* const> rides, const SummaryOptions& options);

}  // namespace bothways
