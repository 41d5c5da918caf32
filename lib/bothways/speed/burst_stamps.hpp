#pragma once

#include "bothways/core/geodesy.hpp"
#include "bothways/core/note.hpp"
#include "bothways/log/log.hpp"

#include <optional>
#include <vector>

namespace bothways {

/// Whether fixes are stamped with the time at which they arrived, several at once and then none for long: no
/// receiver measures like that, and the times of such a log are worth nothing. Places and speeds must say so:
/// within a burst they go on as over seconds.
/// @param fixes  in order of time
[[nodiscard]] std::optional<Note> burst_stamps(const std::vector<const Fix*>& fixes, const LocalPlane& plane);

}  // namespace bothways
