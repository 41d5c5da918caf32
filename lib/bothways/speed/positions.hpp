#pragma once

#include "bothways/speed/series.hpp"

namespace bothways {

/// Positions alone of a slower log are taken for those of a phone, which filters them, Hz.
inline constexpr double phone_positions_below_hz = 3.0;

/// Fills v_mps, sd_mps and the receiver's position noise of a series that has positions only.
void speed_from_positions(SpeedSeries& series, double rate_hz);

}  // namespace bothways
