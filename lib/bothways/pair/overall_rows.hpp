#pragma once

#include "bothways/pair/pair.hpp"
#include "bothways/pair/split_posteriors.hpp"
#include "bothways/run/ride.hpp"

#include <vector>

namespace bothways {

/// A row for each of the splits that these posteriors of the pairs have, as overall() makes it; a clock that
/// they do not have is left at 0.
[[nodiscard]] std::vector<Overall> overall_rows(const std::vector<Ride>& rides, const Pairs& pairs,
                                                const std::vector<SplitPosteriors>& posteriors,
                                                const std::vector<SplitSpec>& splits);

}  // namespace bothways
