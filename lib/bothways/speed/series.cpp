#include "bothways/speed/series.hpp"

#include <algorithm>

namespace bothways {

double longest_silence_s(double step_s) {
  constexpr double least_s = 1.5;
  constexpr double steps = 3.2;
  return std::max(least_s, steps * step_s);
}

const char* to_string(SpeedSource source) {
  return source == SpeedSource::reported ? "reported" : "positions";
}

}  // namespace bothways
