#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/log/log.hpp"
#include "bothways/speed/series.hpp"
#include "bothways/trip/samples.hpp"

#include <string>

namespace bothways {

/// Sum of rises, and how far the heights can be believed.
struct Climb {
  Estimate climb_m{unknown, unknown, unknown, unknown};  ///< unknown without steady heights
  double turn_m = 0.0;                                   ///< a rise counts from so much on
  std::string why_not;  ///< what is wrong with heights that are there; else empty
};

/// Adds up the rises of the heights while moving, averaged over 5 s (docs/method.md, section 12).
///
/// A satellite receiver's heights are two to three times worse than its places, and between high houses they
/// jump by tens of metres. So no climb is given where they wander by more than 10 m while the vehicle stands,
/// or where more than one change in twenty, and three at least, is steeper than 20 % by more than 2 m.
/// Limits: common practice, no source; real logs: 0 to 5 % of the changes of 28 rides by phone in towns and
/// hills, 8 and 20 % between the high houses of a flat city. The interval is turn_m and twice the heights'
/// own wandering for each rise: a rise begins and ends at the lowest and highest of several heights. Test
/// "the interval of the climb holds the truth".
[[nodiscard]] Climb climb_of(const SpeedSeries& series, const ValidSamples& samples);

}  // namespace bothways
