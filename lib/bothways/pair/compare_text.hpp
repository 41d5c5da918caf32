#pragma once

#include "bothways/pair/compare.hpp"

namespace bothways {

/// Whether the sentence of a difference that says nothing yet tells how many more pairs would show it.
[[nodiscard]] bool tells_more(const Difference& row);

/// Fills what a difference says in words, and what to do next: more, more_pairs, text, notes.
void put_words(Difference& row);

}  // namespace bothways
