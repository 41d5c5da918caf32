#include "bothways/log/draft.hpp"

#include <fmt/format.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <memory>

namespace bothways {

namespace {

/// Large pages, where the system has them: touching each small one for the first time takes a seventh to a
/// fourth of the time of reading a long log.
void ask_for_large_pages([[maybe_unused]] void* memory, [[maybe_unused]] std::size_t bytes) {
#ifdef MADV_HUGEPAGE
  if (std::align(static_cast<std::size_t>(::sysconf(_SC_PAGESIZE)), 1, memory, bytes) != nullptr) {
    static_cast<void>(::madvise(memory, bytes, MADV_HUGEPAGE));
  }
#endif
}

}  // namespace

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
  constexpr std::size_t large = 4U << 20U;  // where two of them fit
  if (room * sizeof(Fix) >= large) {
    ask_for_large_pages(fixes.data() + fixes.size(), (room - fixes.size()) * sizeof(Fix));
  }
  lines.reserve(room);
  for (Channel& channel : channels) {
    channel.value.reserve(room);
  }
}

}  // namespace bothways
