#pragma once

#include "bothways/pair/logbook.hpp"
#include "bothways/report/compared.hpp"

#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace bothways_fuzz {

/// The fuzzer's bytes as the texts that a result is full of: paths, conditions, notes.
class Texts {
 public:
  /// @param bytes  texts with the byte 0xFF, which is nowhere in UTF-8, between them; the first 1000 count
  /// @param front  put before each, so that texts begin as what is under test
  Texts(std::span<const std::uint8_t> bytes, std::string_view front);
  explicit Texts(std::vector<std::string> texts) : texts_(std::move(texts)) {}

  /// One after the other, and from the first again.
  [[nodiscard]] std::string next() { return texts_[used_++ % texts_.size()]; }

 private:
  std::vector<std::string> texts_;
  std::size_t used_ = 0;
};

/// The invented result of tests/lib/report with these texts for all that a user or a log names.
[[nodiscard]] bothways::Result result_of(Texts& texts);

/// Two sides of it with a difference; their names are texts, too. The rides of the first share conditions.
[[nodiscard]] bothways::Compared compared_of(Texts& texts);

/// A logbook of two entries, the second with a change.
[[nodiscard]] bothways::Logbook logbook_of(Texts& texts);

/// Stops the program if a terminal or a spreadsheet could obey the text: control characters (line feeds only
/// where they are `kept`), marks that turn the direction of writing, and bytes that are no UTF-8.
void demand_harmless(std::string_view text, std::string_view kept = "");

}  // namespace bothways_fuzz
