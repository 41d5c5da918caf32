#pragma once

#include "bothways/log/log.hpp"

#include <vector>

namespace bothways {

/// Whether a recorder wrote points only while the vehicle moved: by distance (distance-triggered logging), a
/// point every so many metres, or by time with auto-pause. Hardly two points lie close together, though the
/// log falls silent again and again; in nearly all of these silences the vehicle stood or crept, and hardly
/// one ends at rest. Rests, and the starts from them, are not in such a log.
/// @param fixes  in order of time; those without places say nothing
/// @param gap_s  longer steps between them are silences, s, > 0
[[nodiscard]] bool is_moved_only(const std::vector<const Fix*>& fixes, double gap_s);

/// Whether a vehicle that came so far in a silence stood or crept in it.
/// @param way_m, silence_s  >= 0, > 0
[[nodiscard]] bool stood_or_crept(double way_m, double silence_s);

}  // namespace bothways
