#pragma once

#include "bothways/core/geodesy.hpp"

#include <cstdint>
#include <vector>

namespace bothways::sim {

/// A straight road in an empty place, its slope and its wind. x runs along the road, y to the left of it, m.
struct Road {
  LatLon origin{-33.2, -18.4};  ///< invented: open sea
  double heading_deg = 71.0;    ///< of rising x, clockwise from true north
  double height_m = 12.0;       ///< at x = 0
  double slope = 0.0;           ///< rise per run towards rising x, at x = bend_x_m
  double bend_per_m = 0.0;      ///< change of slope a metre (a dip: 1 % in 100 m = 1e-4) ...
  double bend_x_m = 0.0;        ///< ... about this place ...
  double bend_reach_m = 200.0;  ///< ... and this far from it; constant slope beyond
  double slopes_step_m = 0.0;   ///< further slope at even steps ...
  double slopes_from_m = 0.0;   ///< ... from this place on ...
  std::vector<double> slopes;   ///< ... straight between, level beyond; empty: none
  double wind_mps = 0.0;        ///< mean, blowing towards falling x: a head wind for travel to rising x
  double gust_sd_mps = 0.0;     ///< slow gusts on top
  double gust_time_s = 8.0;     ///< their correlation time
  double cross_wind_mps = 0.0;  ///< mean wind across the road, whichever way
};

[[nodiscard]] double slope_at(const Road& road, double x_m);
[[nodiscard]] double height_at(const Road& road, double x_m);

/// Wind against time for one ride: gusts drawn beforehand, so that the same ride always meets the same.
class Wind {
 public:
  Wind(const Road& road, std::uint64_t seed);
  [[nodiscard]] double at(double t_s) const;  ///< head wind for travel to rising x, m/s

 private:
  double mean_mps_;
  std::vector<double> gusts_mps_;  ///< one a second; empty without gusts
};

}  // namespace bothways::sim
