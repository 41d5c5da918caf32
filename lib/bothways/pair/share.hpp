#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/run/run.hpp"

#include <vector>

namespace bothways {

/// Road that two opposite runs used for one split, as a share of the shorter of the two stretches, 0..1.
///
/// Two runs that begin at opposite ends of a stretch share nearly all of their longest split, and nothing of
/// the first metres: each made those at its own end.
[[nodiscard]] double split_overlap(const Run& one, const Run& other, const SplitSpec& spec);

/// "part-overlap" where the runs share less than half of any split's road: what a slope that changes along
/// the road may leave in the two-way figure, to first order.
[[nodiscard]] std::vector<Note> overlap_notes(const std::vector<TwoWay>& splits);

}  // namespace bothways
