#pragma once

#include "bothways/core/note.hpp"

#include <algorithm>
#include <string_view>
#include <vector>

namespace bothways {

/// Whether one of the notes has this code.
[[nodiscard]] inline bool has_note(const std::vector<Note>& notes, std::string_view code) {
  return std::any_of(notes.begin(), notes.end(), [&](const Note& note) { return note.code == code; });
}

}  // namespace bothways
