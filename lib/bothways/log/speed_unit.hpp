#pragma once

#include "bothways/log/log.hpp"

#include <string>
#include <vector>

namespace bothways {

/// Compares the logged speed with the distance between positions: some loggers write km/h, mph or knots where
/// m/s belong (NMEA: where knots belong). If nearly every leg of 20 m of the log is off by one and the same
/// such factor, the speeds are divided by it; if most are, they are left as they are. Both leave the note
/// "speed-unit". A right log is never touched: the nearest factor is 1.85 (common practice, no source).
/// @param fixes  time strictly increasing
void check_speed_unit(std::vector<Fix>& fixes, std::vector<Note>& notes);

}  // namespace bothways
