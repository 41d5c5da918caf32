#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>

namespace bothways {

/// Marks (in sd_mps) the readings between a jump that no vehicle makes and the jump back, up to 12 s later: a
/// jammed receiver logs 247 km/h at rest, one that has lost its satellites 0 on the move. Spikes must be
/// marked before. Returns how many.
std::size_t mark_jams(Stretch& stretch);

/// Marks readings that no vehicle could make: a jump up and back, or down and back, of one reading, or of two
/// or three within a second. Returns how many it marked.
std::size_t mark_spikes(Stretch& stretch);

}  // namespace bothways
