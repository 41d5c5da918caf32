#pragma once

#include "bothways/run/detect.hpp"
#include "bothways/speed/series.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// A stretch as starts are sought in it.
struct Scan {
  const Stretch& s;
  const std::vector<double>& v;  ///< smoothed speed
  double rest_mps;
  double drop;                  ///< a loss of more is a lift, m/s
  double noise_mps;             ///< of a reading, one sd
  double astray_mps;            ///< more loss in the first seconds; 0 for reported speeds
  bool slow;                    ///< a reading a second or so: one alone may be wild, and ends nothing
  std::vector<char> at_rest{};  ///< as of the stretch, what interrupts a rest filled in
};

struct Climb {
  std::size_t top = 0;
  StandingStart::End ended_by = StandingStart::End::lift;
};

/// Follows an acceleration from a row to its lift. A gear change is none (docs/method.md, section 3): the
/// vehicle pulls on after it.
[[nodiscard]] Climb climb(const Scan& scan, std::size_t from);

}  // namespace bothways
