#include "bothways/speed/position_jumps.hpp"

#include "bothways/numeric/robust.hpp"
#include "bothways/speed/accuracy.hpp"
#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace bothways {

namespace {

using Limits = OutlierLimits;

/// Stamps jitter: a step counts as no shorter than the usual one.
double step_speed_mps(const Fix& a, const Fix& b, const LocalPlane& plane, double usual_step_s) {
  return plane.distance_m({a.lat_deg, a.lon_deg}, {b.lat_deg, b.lon_deg}) /
         std::max(seconds_between(a.time, b.time), usual_step_s);
}

constexpr std::size_t least_steps = 30;  // fewer tell no noise: a jump is in three of them

/// Robust sd of a step's speed about the mean of its neighbours', m/s; steps of a frozen position say
/// nothing.
double usual_unevenness_mps(const std::vector<double>& speed) {
  std::vector<double> off;
  for (std::size_t i = 2; i + 1 < speed.size(); ++i) {
    if (speed[i - 1] > 0.0 && speed[i] > 0.0 && speed[i + 1] > 0.0) {
      off.push_back(speed[i] - (speed[i - 1] + speed[i + 1]) / 2.0);
    }
  }
  return off.size() < least_steps ? 0.0 : numeric::robust_sd(off);
}

}  // namespace

std::vector<bool> take_out_jumps(std::vector<const Fix*>& fixes, const LocalPlane& plane,
                                 double usual_step_s) {
  const std::vector<double> worse = worse_than_usual(fixes);
  std::vector<const Fix*> kept;
  std::vector<bool> cut;
  bool dropped = false;
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    const double own_m = fixes[i]->position_sd_m;
    const bool bad = worse[i] > 1.0 && is_known(own_m) && own_m > Limits::bad_position_m;
    if (!bad) {
      kept.push_back(fixes[i]);
      cut.push_back(dropped);
    }
    dropped = bad;
  }
  std::vector<double> speed(kept.size(), 0.0);
  for (std::size_t i = 1; i < kept.size(); ++i) {
    speed[i] = step_speed_mps(*kept[i - 1], *kept[i], plane, usual_step_s);
  }
  const double noisy_mps = Limits::position_jump_sds * usual_unevenness_mps(speed);
  for (std::size_t i = 2; i + 1 < kept.size(); ++i) {
    const double dt_s = seconds_between(kept[i - 1]->time, kept[i]->time);
    const double most = std::max(Limits::position_jump_mps + Limits::position_jump_mps2 * dt_s, noisy_mps);
    cut[i] = cut[i] || speed[i] > std::max(speed[i - 1], speed[i + 1]) + most;
  }
  fixes = std::move(kept);
  return cut;
}

}  // namespace bothways
