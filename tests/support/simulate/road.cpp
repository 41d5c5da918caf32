#include "support/simulate/road.hpp"

#include "support/simulate/random.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways::sim {

double slope_at(const Road& road, double x_m) {
  return road.slope +
         road.bend_per_m * std::clamp(x_m - road.bend_x_m, -road.bend_reach_m, road.bend_reach_m);
}

double height_at(const Road& road, double x_m) {
  const auto rise = [&](double from_bend_m) {  // of the bent part alone, from the bend
    const double inside = std::clamp(from_bend_m, -road.bend_reach_m, road.bend_reach_m);
    return road.bend_per_m * (0.5 * inside * inside + inside * (from_bend_m - inside));
  };
  return road.height_m + road.slope * x_m + rise(x_m - road.bend_x_m) - rise(-road.bend_x_m);
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
