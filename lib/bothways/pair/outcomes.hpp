#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/pair/levels.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/run/run.hpp"

#include <span>
#include <vector>

namespace bothways {

/// The two-way results of one split, as the overall line and a comparison take them.
///
/// From rest, 0.65 of the sd of the shortest split's measurement is shared by all pairs of a log:
/// they are timed with one and the same guess of how the launch goes (docs/method.md, "Overall").
/// @param days  (pairs) the day of each
[[nodiscard]] std::vector<Outcome> outcomes_of(std::span<const Pair> pairs, std::span<const int> days,
                                               const SplitSpec& spec, Clock clock);

}  // namespace bothways
