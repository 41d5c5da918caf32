#pragma once

#include "bothways/speed/series.hpp"

namespace bothways {

/// Fills v_mps, sd_mps and the receiver's position noise of a series that has positions only.
void speed_from_positions(SpeedSeries& series, double rate_hz);

}  // namespace bothways
