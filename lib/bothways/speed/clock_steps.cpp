#include "bothways/speed/clock_steps.hpp"

#include <algorithm>
#include <cstddef>

namespace bothways {

namespace {

// Common practice, no source.
constexpr double least_speed_mps = 3.0;
constexpr double least_step_s = 0.25;  // stamps jitter by less
constexpr double long_steps = 1.8;
constexpr double least_share = 0.5;  // of the time from fix to fix: in a loss of fixes the vehicle goes on

}  // namespace

std::vector<bool> clock_steps(const std::vector<const Fix*>& fixes, const LocalPlane& plane,
                              double usual_step_s) {
  std::vector<bool> cuts;
  for (std::size_t i = 2; i + 1 < fixes.size(); ++i) {
    // From a fix before to one after: a stamp that jitters is early or late by itself.
    const Fix& before = *fixes[i - 2];
    const Fix& after = *fixes[i + 1];
    const double step_s = seconds_between(fixes[i - 1]->time, fixes[i]->time);
    const double all_s = seconds_between(before.time, after.time);
    const double speed_mps = std::min(fixes[i - 1]->speed_mps, fixes[i]->speed_mps);
    const bool lone = step_s >= long_steps * usual_step_s && all_s - step_s < 2.0 * long_steps * usual_step_s;
    if (!lone || !(speed_mps > least_speed_mps)) {
      continue;
    }
    const double way_m = plane.distance_m({before.lat_deg, before.lon_deg}, {after.lat_deg, after.lon_deg});
    const double too_long_s = all_s - way_m / speed_mps;
    if (too_long_s > std::max(least_step_s, least_share * step_s)) {
      cuts.resize(fixes.size(), false);
      cuts[i] = true;
    }
  }
  return cuts;
}

}  // namespace bothways
