#include "bothways/log/speed_unit.hpp"

#include "bothways/core/geodesy.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

namespace bothways {

namespace {

constexpr double leg_m = 20.0;  // long against position noise, short against bends
constexpr double longest_leg_s = 10.0;
constexpr std::size_t fewest_legs = 25;
constexpr std::size_t many_legs = 50;

struct Mistake {
  double factor;
  const char* what;
};
constexpr std::array mistakes = {
    Mistake{3.6, "as if km/h stood where m/s belong"},
    Mistake{1.0 / 0.44704, "as if mph stood where m/s belong"},
    Mistake{3600.0 / 1852.0, "as if knots stood where m/s belong"},
    Mistake{1.852, "as if km/h stood where knots belong"},
    Mistake{1852.0 / 3600.0, "as if m/s stood where knots belong"},
    Mistake{0.44704, "as if m/s stood where mph belong"},
    Mistake{1.0 / 3.6, "as if m/s stood where km/h belong"},
};

bool is_usable(const Fix& fix) {
  return is_known(fix.speed_mps) && is_known(fix.lat_deg);
}

/// Distance of a fix from the plane's origin; 0 where it is plainly below a leg, which saves the root.
double travelled_m(const LocalPlane& plane, const Fix& fix) {
  const PlanePoint here = plane.to_plane({fix.lat_deg, fix.lon_deg});
  const double square_m2 = here.east_m * here.east_m + here.north_m * here.north_m;
  return square_m2 < 0.99 * leg_m * leg_m ? 0.0 : std::hypot(here.east_m, here.north_m);
}

/// Travel by logged speed over travel by positions, one figure for each 20 m.
std::vector<double> leg_ratios(const std::vector<Fix>& fixes) {
  std::vector<double> ratios;
  std::optional<std::size_t> start;
  LocalPlane plane;
  double by_speed_m = 0.0;
  for (std::size_t i = 0; i < fixes.size(); ++i) {
    const Fix& fix = fixes[i];
    const double step_s = i == 0 ? 0.0 : seconds_between(fixes[i - 1].time, fix.time);
    if (!is_usable(fix) || step_s > longest_leg_s) {
      start.reset();
    }
    if (!is_usable(fix)) {
      continue;
    }
    if (start) {
      by_speed_m += 0.5 * (fixes[i - 1].speed_mps + fix.speed_mps) * step_s;
      const double by_place_m = travelled_m(plane, fix);
      const bool slow = seconds_between(fixes[*start].time, fix.time) > longest_leg_s;
      if (by_place_m >= leg_m && !slow) {
        ratios.push_back(by_speed_m / by_place_m);
      }
      if (by_place_m < leg_m && !slow) {
        continue;
      }
    }
    start = i;
    plane = LocalPlane({fix.lat_deg, fix.lon_deg});
    by_speed_m = 0.0;
  }
  return ratios;
}

/// Share of the figures within `part` of `factor`.
double share_near(const std::vector<double>& ratios, double factor, double part) {
  const auto near = std::count_if(ratios.begin(), ratios.end(),
                                  [=](double ratio) { return std::abs(ratio / factor - 1.0) <= part; });
  return static_cast<double>(near) / static_cast<double>(ratios.size());
}

}  // namespace

void check_speed_unit(std::vector<Fix>& fixes, std::vector<Note>& notes) {
  std::vector<double> ratios = leg_ratios(fixes);
  if (ratios.size() < fewest_legs) {
    return;
  }
  const auto middle = ratios.begin() + static_cast<std::ptrdiff_t>(ratios.size() / 2);
  std::nth_element(ratios.begin(), middle, ratios.end());
  const double median = *middle;
  const auto* nearest =
      std::min_element(mistakes.begin(), mistakes.end(), [=](const Mistake& a, const Mistake& b) {
        return std::abs(std::log(median / a.factor)) < std::abs(std::log(median / b.factor));
      });
  if (!(std::abs(median / nearest->factor - 1.0) < 0.04) ||
      share_near(ratios, nearest->factor, 0.15) < 0.75) {
    return;
  }
  const bool sure = ratios.size() >= many_legs && share_near(ratios, nearest->factor, 0.10) >= 0.90;
  if (sure) {
    for (Fix& fix : fixes) {
      fix.speed_mps /= nearest->factor;
      fix.speed_sd_mps /= nearest->factor;
    }
  }
  notes.push_back(
      {"speed-unit",
       fmt::format("the logged speeds are {:.2f} times what the positions say, {}; {}", median, nearest->what,
                   sure ? "they were corrected by this factor"
                        : "they were left as they are, so check the unit that the logger writes"),
       0});
}

}  // namespace bothways
