#include "bothways/log/draft.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace bothways {

void add_note(std::vector<Note>& notes, const char* code, const Tally& tally, std::string_view one,
              std::string_view many) {
  if (tally.count == 0) {
    return;
  }
  std::string text = fmt::format("{} {}", tally.count, tally.count == 1 ? one : many);
  if (tally.first_line > 0) {
    text += fmt::format(" ({}line {})", tally.count == 1 ? "" : "the first in ", tally.first_line);
  }
  notes.push_back({code, text, tally.first_line});
}

void Draft::grow(std::size_t used, std::size_t bytes) {
  constexpr std::size_t sample = 2048;  // fixes that tell how many bytes one takes
  std::size_t room = 2 * fixes.size();
  if (fixes.size() >= sample && bytes > used && used > 0) {
    // Memory that is reserved but never written costs nothing, so a little more than expected.
    const double expected =
        static_cast<double>(fixes.size()) * static_cast<double>(bytes) / static_cast<double>(used);
    room = std::max(fixes.size() + fixes.size() / 8, static_cast<std::size_t>(1.06 * expected));
  }
  room = std::max(room, sample);
  fixes.reserve(room);
  lines.reserve(room);
  for (Channel& channel : channels) {
    channel.value.reserve(room);
  }
}

}  // namespace bothways
