#pragma once

#include "bothways/log/log.hpp"
#include "bothways/log/read.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace bothways {

/// How often something happened and where first.
struct Tally {
  std::size_t count = 0;
  std::size_t first_line = 0;

  void add(std::size_t line) {
    if (count++ == 0) {
      first_line = line;
    }
  }
};

/// `N <thing>` and its line, if the tally is not empty: "3 sentences ... were left out (the first in line
/// 12)".
/// @param one   what follows "1 "
/// @param many  what follows a greater count
void add_note(std::vector<Note>& notes, const char* code, const Tally& tally, std::string_view one,
              std::string_view many);

/// What a reader hands to tidy(): fixes as they stand in the file, not yet sorted or checked.
struct Draft {
  std::vector<Fix> fixes;            ///< (n) any order, values unchecked
  std::vector<std::uint32_t> lines;  ///< (n) 1-based line of each
  std::vector<Channel> channels;     ///< each (n)
  std::vector<Note> notes;
  bool dated = true;
  bool whole_second_stamps = false;
  bool full = false;  ///< the limit of fixes is reached; the reader may stop

  /// Room for one fix more, and where that needs new memory, for all that the source will give if it goes on
  /// as so far: growing by doubling would hold the fixes twice.
  /// @param used   bytes of the source that gave the fixes so far
  /// @param bytes  all that the source has; 0: not known
  void make_room(std::size_t used, std::size_t bytes) {
    if (fixes.size() == fixes.capacity()) {
      grow(used, bytes);
    }
  }

  /// Appends a fix unless `limit` of them are there.
  void add(const Fix& fix, std::size_t line, std::size_t limit) {
    if (fixes.size() >= limit) {
      full = true;
      return;
    }
    fixes.push_back(fix);
    lines.push_back(static_cast<std::uint32_t>(line));
  }

 private:
  void grow(std::size_t used, std::size_t bytes);
};

}  // namespace bothways
