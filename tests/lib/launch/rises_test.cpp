#include "bothways/launch/rises.hpp"

#include "bothways/launch/level_crossing.hpp"
#include "lib/launch/made_up_paths.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

using namespace bothways;
using Catch::Matchers::WithinAbs;

namespace {

constexpr double peak_mps = 8.0;
constexpr double shift_s = 2.0;

/// Up to the peak at 3.6 m/s^2, a gear change, and on.
double geared_at(double t_s, double slope_mps2, double gap_s) {
  const double after_s = t_s - shift_s;
  if (after_s < 0.0) {
    return peak_mps + 3.6 * after_s;
  }
  return after_s < gap_s ? peak_mps + slope_mps2 * after_s
                         : peak_mps + slope_mps2 * gap_s + 3.0 * (after_s - gap_s);
}

/// The kernel of a smoothing spline [SILVERMAN84], for which the path of a Wiener acceleration is one far
/// from its ends.
double spline_kernel(double x) {
  const double u = std::abs(x) / std::numbers::sqrt2;
  return 0.5 * std::exp(-u) * std::sin(u + std::numbers::pi / 4.0);
}

double box_kernel(double x) {
  return std::abs(x) < 0.5 ? 1.0 : 0.0;
}

/// The gear change as seen through a kernel of a width, at steps that are small beside it.
SmoothedPath smoothed(const std::function<double(double)>& kernel, double width_s, double slope_mps2,
                      double gap_s) {
  constexpr double step_s = 0.02;
  constexpr int parts = 4000;
  std::vector<double> v;
  for (int i = 0; i < 200; ++i) {
    double sum = 0.0;
    double weight = 0.0;
    for (int k = 0; k < parts; ++k) {
      const double x = 24.0 * (k + 0.5) / parts - 12.0;
      sum += kernel(x) * geared_at(step_s * i + width_s * x, slope_mps2, gap_s);
      weight += kernel(x);
    }
    v.push_back(sum / weight);
  }
  return made_up::path_of(v, 0.03, step_s, width_s);
}

/// Two gear changes 1.7 s apart on a path that shows every step and overshoots after the first: where the
/// clutch takes hold again it is at 9 m/s^2 for one step.
/// @param scale_s  of its kernel
SmoothedPath overshooting(double scale_s) {
  constexpr double step_s = 0.08;
  std::vector<double> v{10.0};
  const auto pull = [&](int steps, double from_mps2, double to_mps2) {
    for (int i = 0; i < steps; ++i) {
      v.push_back(v.back() + step_s * (from_mps2 + (to_mps2 - from_mps2) * i / steps));
    }
  };
  pull(12, 4.8, 4.3);
  pull(3, -0.4, -0.4);
  pull(2, 9.0, 9.0);
  pull(16, 3.6, 2.9);
  pull(3, -0.6, -0.6);
  pull(2, 6.0, 6.0);
  pull(40, 2.4, 1.6);
  return made_up::path_of(v, 0.018, step_s, scale_s);
}

}  // namespace

TEST_CASE("a path rounds off no more of a gear change than its kernel can, whatever it did before",
          "[launch]") {
  const SmoothedPath path = overshooting(0.025);
  const std::vector<Rise> rises = rises_until(path, numeric::i_v, 9.0);
  REQUIRE(rises.size() == 3);
  for (const Rise& rise : rises) {
    CHECK(rise.rounded_off + 2.0 * rise.rounded_sd < 0.2);  // 10 m/s^2 over 2 steps, over 8
  }
  CHECK_THAT(path.t_s[rises[0].peak], WithinAbs(0.96, 0.09));
  CHECK_THAT(path.t_s[rises[1].peak], WithinAbs(2.64, 0.09));
  // A mark 0.5 m/s and more above a gear change is crossed after it.
  for (const double above_mps : {0.5, 1.0, 2.0, 3.0}) {
    const Level level{numeric::i_v, path.mean[rises[1].peak](numeric::i_v) + above_mps};
    const auto all = likely_crossings(path, rises, level, 9.0);
    REQUIRE(all.size() == 1);
    CHECK(all[0].at.t_s == first_crossing(path, level, 9.0)->t_s);
  }
}

TEST_CASE("what a smoothed path rounds off a gear change is what it shows less at the peak", "[launch]") {
  for (const double slope_mps2 : {-0.4, -1.5}) {
    for (const double width_s : {0.06, 0.12}) {
      for (const bool spline : {true, false}) {
        CAPTURE(slope_mps2, width_s, spline);
        const SmoothedPath path = spline ? smoothed(spline_kernel, width_s, slope_mps2, 1.0)
                                         : smoothed(box_kernel, 3.0 * width_s, slope_mps2, 1.0);
        const std::vector<Rise> rises = rises_until(path, numeric::i_v, 9.0);
        REQUIRE(rises.size() == 2);
        const double shown_mps = path.mean[rises[0].peak](numeric::i_v);
        CHECK(shown_mps < peak_mps);
        CHECK_THAT(shown_mps + rises[0].rounded_off, WithinAbs(peak_mps, 0.67 * rises[0].rounded_sd));
        CHECK_THAT(path.t_s[rises[0].knee], WithinAbs(shift_s, 0.03));
        // No more than an even law from nothing to twice (D w / 8), of D the fall of the acceleration; a
        // third beside it for what the path shows of D and w beyond that.
        const double fall_s = spline ? 2.83 * width_s : 3.0 * width_s;
        CHECK(rises[0].rounded_sd < 1.33 * 0.58 * (3.6 - slope_mps2) * fall_s / 8.0);
      }
    }
  }
}

TEST_CASE("a gear change whose loss is made good before the pull is back is one", "[launch]") {
  // Down by 0.1 m/s, and above the peak again two steps later, while the acceleration comes back after that.
  std::vector<double> v;
  for (int i = 0; i <= 10; ++i) {
    v.push_back(6.0 + 0.2 * i);
  }
  v.insert(v.end(), {7.95, 7.9, 7.98, 8.06, 8.14});
  for (int i = 1; i <= 15; ++i) {
    v.push_back(8.14 + 0.2 * i);
  }
  for (const double sd_mps : {0.01, 1.0}) {
    const SmoothedPath path = made_up::path_of(v, sd_mps);
    const std::vector<Rise> rises = rises_until(path, numeric::i_v, 9.0);
    REQUIRE(rises.size() == 2);
    CHECK(path.mean[rises[0].peak](numeric::i_v) == 8.0);
    CHECK(rises[0].rounded_off > 0.0);
    CHECK(rises[1].valley == 12);
  }
}
