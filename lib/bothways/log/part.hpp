#pragma once

#include "bothways/log/log.hpp"

namespace bothways {

/// A part of a log by time, as if only that had been recorded: its fixes and channels from one instant up to,
/// but not including, another. Path, format and notes are those of the log. May be without a fix.
[[nodiscard]] Log part_of(const Log& log, Instant from, Instant until);

}  // namespace bothways
