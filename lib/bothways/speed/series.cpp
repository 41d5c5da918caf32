#include "bothways/speed/series.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

double total_noise_mps(const Receiver& receiver) {
  return std::hypot(receiver.white_sd_mps, receiver.slow_sd_mps);
}

bool is_coarse_step(double step_mps, double rest_rms_mps) {
  constexpr double coarse_share = 0.7;  // below, d^2/12 adds 4 % to the variance at rest, and that is all
  constexpr double least_mps = 0.02;    // a finer step is never taken for creeping
  return step_mps >= std::max(least_mps, coarse_share * rest_rms_mps);
}

double longest_silence_s(double step_s) {
  constexpr double least_s = 1.5;
  constexpr double steps = 3.2;
  return std::max(least_s, steps * step_s);
}

const char* to_string(Validity validity) {
  switch (validity) {
    case Validity::spike:
      return "spike";
    case Validity::excursion:
      return "excursion";
    case Validity::unreachable:
      return "unreachable";
    default:
      return "valid";
  }
}

const char* to_string(SpeedSource source) {
  return source == SpeedSource::reported ? "reported" : "positions";
}

}  // namespace bothways
