#pragma once

#include <vector>

namespace bothways {

/// How hard one start pulled, and which way.
struct Pull {
  double mean_mps2 = 0.0;    ///< mean acceleration to the speed of comparison, > 0
  double heading_deg = 0.0;  ///< NaN where unknown
};

/// Homogeneity test: whether starts get away alike, as those of one vehicle at full throttle do: those in one
/// direction differ by a few per cent, those in opposite directions by what the slope makes. Starts in
/// traffic do not.
/// @param noise_share  sd of a pull that the readings' noise makes, as a share of the pull, >= 0
/// @return             true for a single start
[[nodiscard]] bool homogeneous(const std::vector<Pull>& pulls, double noise_share);

}  // namespace bothways
