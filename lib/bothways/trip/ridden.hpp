#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace bothways {

/// A speed reading that is believed, and where it stands in the series.
struct RiddenRow {
  double t_s = 0.0;  ///< from the start of the first stretch
  double v_mps = 0.0;
  std::uint32_t stretch = 0;
  std::uint32_t row = 0;
};

/// What happens between a row and the next one.
enum class Between {
  ride,     ///< ordinary
  bridged,  ///< a gap: the distance is a guess
  open      ///< a gap across which nothing is counted
};

/// All believed readings of a log in order of time, with what lies between them.
struct Ridden {
  std::vector<RiddenRow> rows;   ///< (n)
  std::vector<Between> between;  ///< (n - 1) after row i
  std::vector<double> travel_m;  ///< (n - 1) after row i
  std::vector<char> moving;      ///< (n) 1: moving
  std::size_t wild = 0;          ///< readings left out
  double rest_mps = 0.0;
};

/// Leaves out what no vehicle could do, bridges gaps, and tells riding from standing.
[[nodiscard]] Ridden ridden_of(const SpeedSeries& series);

}  // namespace bothways
