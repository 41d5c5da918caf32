#include "bothways/speed/resolution.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

constexpr double second_step_mps = 0.02;  // coarser ones may have been written in another unit afterwards
constexpr double second_rounding = 0.05;  // of the step, at most
constexpr double second_rounding_mps = 0.0055;  // half of 0.01 m/s

/// How far off its multiples a speed of this step may be written, m/s.
double tolerance_mps(double step_mps) {
  const double own = 2e-3 * step_mps + 1e-4;
  return step_mps < second_step_mps
             ? own
             : std::max(own, std::min(second_rounding * step_mps, second_rounding_mps));
}

/// Whether 98 of 100 speeds are multiples.
bool is_step(double step_mps, const std::vector<double>& speeds_mps, std::size_t above_zero) {
  std::size_t off_step = 0;
  for (std::size_t i = 0; i < speeds_mps.size() && off_step * 50 <= above_zero; ++i) {
    const double off_mps = std::abs(speeds_mps[i] - std::round(speeds_mps[i] / step_mps) * step_mps);
    off_step += speeds_mps[i] > 0.0 && !(off_mps < tolerance_mps(step_mps)) ? 1U : 0U;
  }
  return off_step * 50 <= above_zero;
}

}  // namespace

double resolution_of(const std::vector<double>& speeds_mps) {
  // Exact first; then units as programs convert them by hand.
  constexpr std::array<double, 8> units{1.0,    mps_per_knot, mps_per_mph, mps_per_kmh,
                                        0.5144, 0.514,        0.2778,      0.278};
  constexpr std::array<double, 4> parts{1.0, 0.5, 0.1, 0.01};
  constexpr double surely_coarser = 1.5;
  const auto all = static_cast<std::size_t>(
      std::count_if(speeds_mps.begin(), speeds_mps.end(), [](double v) { return v > 0.0; }));
  if (all < 20) {
    return 0.0;
  }
  double found = 0.0;
  for (std::size_t unit = 0; unit < units.size(); ++unit) {
    for (const double part : parts) {
      const double step = part * units[unit];
      if (step > (unit < 4 ? 1.0 : surely_coarser) * found && is_step(step, speeds_mps, all)) {
        found = step;
      }
    }
  }
  return found;
}

}  // namespace bothways
