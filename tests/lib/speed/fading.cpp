#include "lib/speed/fading.hpp"

#include "bothways/core/time.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways {

Log faded(Log log, double lag_s, double fades_by_mps) {
  double shown_mps = log.fixes.front().speed_mps;
  for (std::size_t i = 1; i < log.fixes.size(); ++i) {
    const double dt_s = seconds_between(log.fixes[i - 1].time, log.fixes[i].time);
    const double here_s = lag_s * std::max(0.0, 1.0 - shown_mps / fades_by_mps);
    const double share = here_s > 0.01 ? -std::expm1(-dt_s / here_s) : 1.0;
    shown_mps += share * (log.fixes[i].speed_mps - shown_mps);
    log.fixes[i].speed_mps = shown_mps;
  }
  return log;
}

}  // namespace bothways
