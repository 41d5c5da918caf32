#include "bothways/log/draft.hpp"

#include <fmt/format.h>

namespace bothways {

void add_note(std::vector<Note>& notes, const char* code, const Tally& tally, std::string_view one,
              std::string_view many) {
  if (tally.count == 0) {
    return;
  }
  std::string text = fmt::format("{} {}", tally.count, tally.count == 1 ? one : many);
  if (tally.first_line > 0) {
    text += fmt::format("{} in line {}", tally.count == 1 ? "," : ", the first", tally.first_line);
  }
  notes.push_back({code, text, tally.first_line});
}

}  // namespace bothways
