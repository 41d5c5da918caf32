#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace bothways {

/// A valid sample of the speed series, and where it stands there.
struct ValidSample {
  double t_s = 0.0;  ///< from the start of the first stretch
  double v_mps = 0.0;
  std::uint32_t stretch = 0;
  std::uint32_t row = 0;
};

/// What happens between a sample and the next one.
enum class Between {
  ride,     ///< ordinary
  bridged,  ///< a gap: the distance is assumed
  open      ///< a gap across which nothing is counted
};

/// All valid samples of a log in order of time, with what lies between them.
struct ValidSamples {
  std::vector<ValidSample> rows;  ///< (n)
  std::vector<Between> between;   ///< (n - 1) after row i
  std::vector<double> travel_m;   ///< (n - 1) after row i
  std::vector<char> moving;       ///< (n) 1: moving
};

/// Collects the valid samples, bridges gaps, and tells moving from standing: what is at rest by the speed
/// stage stands, but a rest below 3 s within a ride does not, nor is a second or three metres a ride.
[[nodiscard]] ValidSamples valid_samples(const SpeedSeries& series);

}  // namespace bothways
