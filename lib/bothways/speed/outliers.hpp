#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>

namespace bothways {

/// Marks samples that no vehicle could make: a jump up and back, or down and back, of one sample, or of two
/// or three within a second (OutlierLimits). Returns how many it marked.
std::size_t mark_spikes(Stretch& stretch);

/// Marks the samples between a jump that no vehicle makes and the jump back, up to 12 s later: a jammed
/// receiver logs 247 km/h at rest, one that has lost its satellites 0 on the move. Spikes must be marked
/// before. Returns how many it marked.
std::size_t mark_excursions(Stretch& stretch);

}  // namespace bothways
