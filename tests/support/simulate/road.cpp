#include "support/simulate/road.hpp"

#include "support/simulate/random.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways::sim {

namespace {

/// The further slope at a place, and its integral from the first place there.
struct Further {
  double slope = 0.0;
  double rise_m = 0.0;
};

Further further_at(const Road& road, double x_m, bool with_rise) {
  Further here;
  if (road.slopes.empty()) {
    return here;
  }
  const double last = static_cast<double>(road.slopes.size() - 1);
  const double place = (x_m - road.slopes_from_m) / road.slopes_step_m;
  const double within = std::clamp(place, 0.0, last);
  const auto i = static_cast<std::size_t>(std::min(within, std::max(0.0, last - 1.0)));
  const double next = road.slopes[std::min(i + 1, road.slopes.size() - 1)];
  here.slope = road.slopes[i] + (next - road.slopes[i]) * (within - static_cast<double>(i));
  if (with_rise) {
    for (std::size_t k = 0; k < i; ++k) {
      here.rise_m += 0.5 * road.slopes_step_m * (road.slopes[k] + road.slopes[k + 1]);
    }
    here.rise_m +=
        0.5 * road.slopes_step_m * (within - static_cast<double>(i)) * (road.slopes[i] + here.slope);
    here.rise_m += road.slopes_step_m * (place - within) * here.slope;
  }
  return here;
}

}  // namespace

double slope_at(const Road& road, double x_m) {
  return road.slope +
         road.bend_per_m * std::clamp(x_m - road.bend_x_m, -road.bend_reach_m, road.bend_reach_m) +
         further_at(road, x_m, false).slope;
}

double height_at(const Road& road, double x_m) {
  const auto rise = [&](double from_bend_m) {  // of the bent part alone, from the bend
    const double inside = std::clamp(from_bend_m, -road.bend_reach_m, road.bend_reach_m);
    return road.bend_per_m * (0.5 * inside * inside + inside * (from_bend_m - inside));
  };
  return road.height_m + road.slope * x_m + rise(x_m - road.bend_x_m) - rise(-road.bend_x_m) +
         further_at(road, x_m, true).rise_m - further_at(road, 0.0, true).rise_m;
}

Wind::Wind(const Road& road, std::uint64_t seed) : mean_mps_(road.wind_mps) {
  if (road.gust_sd_mps > 0.0) {
    constexpr int two_hours_s = 7200;
    Random random(seed);
    SlowNoise gust(road.gust_sd_mps, road.gust_time_s, random);
    gusts_mps_.reserve(two_hours_s);
    for (int i = 0; i < two_hours_s; ++i) {
      gusts_mps_.push_back(gust.step(1.0, random));
    }
  }
}

double Wind::at(double t_s) const {
  if (gusts_mps_.empty()) {
    return mean_mps_;
  }
  const double place = std::clamp(t_s, 0.0, static_cast<double>(gusts_mps_.size() - 2));
  const auto i = static_cast<std::size_t>(place);
  const double part = place - static_cast<double>(i);
  return mean_mps_ + gusts_mps_[i] * (1.0 - part) + gusts_mps_[i + 1] * part;
}

}  // namespace bothways::sim
