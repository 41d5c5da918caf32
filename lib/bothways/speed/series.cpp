#include "bothways/speed/series.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

double total_noise_mps(const Receiver& receiver) {
  return std::hypot(receiver.white_sd_mps, receiver.slow_sd_mps);
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
