#pragma once

#include "bothways/pair/compare.hpp"

namespace bothways {

/// Fills what a difference says in words, and what to do next: more, more_pairs, text, notes.
void put_words(Difference& row, const PlanOptions& plan);

}  // namespace bothways
