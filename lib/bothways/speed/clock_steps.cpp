#include "bothways/speed/clock_steps.hpp"

#include "bothways/numeric/robust.hpp"
#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace bothways {

namespace {

// Common practice, no source.
constexpr double least_speed_mps = 3.0;
constexpr double least_clock_step_s = 0.25;  // stamps jitter by less
constexpr double long_steps = 1.8;
constexpr double least_share = 0.5;  // of the time from fix to fix: in a loss of fixes the vehicle goes on
constexpr double leg_m = 2.5;        // by which the direction before and after is told
constexpr double straight_deg = 25.0;
constexpr double longest_leg_s = 10.0;
constexpr double least_noise_m = 0.1;
constexpr double noise_sds = 6.0;
constexpr std::size_t most_spans = 2000;  // by which the noise is told

using Fixes = std::vector<const Fix*>;

PlanePoint place_on(const LocalPlane& plane, const Fix& fix) {
  return plane.to_plane({fix.lat_deg, fix.lon_deg});
}

/// A lone long step before a fix, seen from the fix before to the one after its ends: a stamp that jitters
/// is early or late by itself.
struct LongStep {
  double all_s = 0.0;
  double way_m = 0.0;
  double own_s = 0.0;  ///< all but what the steps beside it usually take
};

double stepped_s(const Fixes& fixes, std::size_t i) {
  return seconds_between(fixes[i - 1]->time, fixes[i]->time);
}

double way_about_m(const Fixes& fixes, const LocalPlane& plane, std::size_t i) {
  return plane.distance_m({fixes[i - 2]->lat_deg, fixes[i - 2]->lon_deg},
                          {fixes[i + 1]->lat_deg, fixes[i + 1]->lon_deg});
}

/// Direction over some metres: back from a row, or on; nothing if the vehicle came no further.
std::optional<double> course_deg(const Fixes& fixes, const LocalPlane& plane, std::size_t row, bool back) {
  const PlanePoint here = place_on(plane, *fixes[row]);
  for (std::size_t k = row; back ? k-- > 0 : ++k < fixes.size();) {
    if (std::abs(seconds_between(fixes[row]->time, fixes[k]->time)) > longest_leg_s) {
      break;
    }
    const PlanePoint there = place_on(plane, *fixes[k]);
    if (std::hypot(there.east_m - here.east_m, there.north_m - here.north_m) >= leg_m) {
      return back ? direction_deg(there, here) : direction_deg(here, there);
    }
  }
  return std::nullopt;
}

bool is_straight(const Fixes& fixes, const LocalPlane& plane, std::size_t i) {
  const auto before = course_deg(fixes, plane, i - 1, true);
  const auto after = course_deg(fixes, plane, i, false);
  return before && after && angle_between_deg(*before, *after) < straight_deg;
}

/// The shortest way between two speeds in a time: braking at first, and standing if there is time for it.
double shortest_way_m(double from_mps, double to_mps, double time_s) {
  constexpr double mps2 = OutlierLimits::driven_mps2;
  const double slowest = std::max(0.0, 0.5 * (from_mps + to_mps - mps2 * time_s));
  return std::max(0.0, 0.5 * (from_mps * from_mps + to_mps * to_mps) / mps2 - slowest * slowest / mps2);
}

/// sd of what the places of three usual steps say against the speeds, m.
double span_noise_m(const Fixes& fixes, const LocalPlane& plane, double usual_step_s) {
  std::vector<double> off_m;
  const std::size_t every = 1 + fixes.size() / most_spans;
  for (std::size_t i = 2; i + 1 < fixes.size(); i += every) {
    const double all_s = seconds_between(fixes[i - 2]->time, fixes[i + 1]->time);
    const double mean_mps = 0.5 * (fixes[i - 1]->speed_mps + fixes[i]->speed_mps);
    if (mean_mps > least_speed_mps && all_s < 2.0 * long_steps * usual_step_s) {
      off_m.push_back(way_about_m(fixes, plane, i) - mean_mps * all_s);
    }
  }
  std::erase_if(off_m, [](double off) { return std::isnan(off); });
  return std::max(least_noise_m, numeric::robust_sd(off_m));
}

/// The step before a fix if it is long and stands alone, above the least speed.
std::optional<LongStep> lone_long_step(const Fixes& fixes, const LocalPlane& plane, std::size_t i,
                                       double usual_step_s) {
  const double step_s = stepped_s(fixes, i);
  if (step_s < long_steps * usual_step_s ||
      !(std::min(fixes[i - 1]->speed_mps, fixes[i]->speed_mps) > least_speed_mps)) {
    return std::nullopt;
  }
  LongStep out;
  out.all_s = seconds_between(fixes[i - 2]->time, fixes[i + 1]->time);
  if (out.all_s - step_s >= 2.0 * long_steps * usual_step_s) {
    return std::nullopt;
  }
  out.way_m = way_about_m(fixes, plane, i);
  out.own_s = out.all_s - std::max(usual_step_s, stepped_s(fixes, i - 1)) -
              std::max(usual_step_s, stepped_s(fixes, i + 1));
  return out.own_s > 0.0 ? std::optional(out) : std::nullopt;
}

}  // namespace

std::vector<bool> clock_steps(const std::vector<const Fix*>& fixes, const LocalPlane& plane,
                              double usual_step_s) {
  std::vector<bool> cuts;
  std::optional<double> noise_m;
  for (std::size_t i = 2; i + 1 < fixes.size(); ++i) {
    const auto step = lone_long_step(fixes, plane, i, usual_step_s);
    if (!step) {
      continue;
    }
    const double before_mps = fixes[i - 1]->speed_mps;
    const double after_mps = fixes[i]->speed_mps;
    const double too_long_s = step->all_s - step->way_m / std::min(before_mps, after_mps);
    if (!(too_long_s > std::max(least_clock_step_s, least_share * stepped_s(fixes, i)))) {
      continue;
    }
    // However hard it had braked and pulled meanwhile, it would have come further.
    const double beside_m = (before_mps + after_mps) * 0.5 * (step->all_s - step->own_s);
    const double least_m = beside_m + shortest_way_m(before_mps, after_mps, step->own_s);
    noise_m = noise_m ? noise_m : span_noise_m(fixes, plane, usual_step_s);
    if (step->way_m < least_m - noise_sds * *noise_m && is_straight(fixes, plane, i)) {
      cuts.resize(fixes.size(), false);
      cuts[i] = true;
    }
  }
  return cuts;
}

}  // namespace bothways
