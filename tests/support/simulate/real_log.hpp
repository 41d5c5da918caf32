#pragma once

#include "bothways/core/estimate.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace bothways::sim {

/// A time found in a real log beside the same time of the reference.
struct RealFigure {
  std::string split;
  double foot_s = 0.0;  ///< clock start as found, from the first row of the reference
  Estimate found;
  double true_s = 0.0;
};

/// Every standing start of a real log, gentle ones too, that gains 5.5 m/s in the reference, roll-out clock.
/// @param folder  holds log.nmea or log.gpx, and truth.csv (t_unix_s,speed_mps), as ../shared/data/truth does
/// @throws LogError, std::runtime_error  if a file cannot be read
[[nodiscard]] std::vector<RealFigure> real_figures(const std::filesystem::path& folder);

}  // namespace bothways::sim
