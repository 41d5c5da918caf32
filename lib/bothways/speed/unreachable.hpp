#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>

namespace bothways {

/// Marks what no vehicle could have reached. Where two neighbouring valid samples could not follow each other
/// (OutlierLimits and the receiver's noise), up to three samples within a second whose absence mends it are
/// spikes that only one side betrays; else the stretch is parted there. Of its pieces the shortest goes
/// first, one between two others if it is shorter than a minute, one at an end if than an excursion, until
/// what is left fits together or is longer. Spikes and excursions must be marked before. O(n log n). Returns
/// how many it marked.
std::size_t mark_unreachable(Stretch& stretch, const Receiver& receiver);

}  // namespace bothways
