// docs/method.md, eq. (10.1): CdA = drag_area_m2, C = rolling, rho = air_kg_m3, v + w = air_mps, c =
// cross_wind_mps.
#include "support/simulate/vehicle.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways::sim {

namespace {

/// Share at v on straight lines between the points, level beyond them.
double drive_share(const std::vector<DrivePoint>& points, double v_mps) {
  if (points.empty()) {
    return 1.0;
  }
  if (v_mps <= points.front().v_mps) {
    return points.front().share;
  }
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (v_mps < points[i].v_mps) {
      const auto& a = points[i - 1];
      const auto& b = points[i];
      return a.share + (b.share - a.share) * (v_mps - a.v_mps) / (b.v_mps - a.v_mps);
    }
  }
  return points.back().share;
}

}  // namespace

Vehicle plain_scooter() {
  return {};
}

Vehicle scooter(double creep_s, double creep_share) {
  Vehicle v;
  v.launch = {{0.0, 0.0},
              {0.04, creep_share},
              {0.04 + creep_s, creep_share},
              {0.10 + creep_s, 1.08},  // the snatch: engine inertia gives a little more for a moment
              {0.45 + creep_s, 1.0}};
  return v;
}

Vehicle geared_motorcycle(double gap_s) {
  Vehicle v;
  v.pull_N = 900.0;
  v.power_W = 13000.0;
  v.mass_kg = 215.0;
  v.effective_mass_kg = 230.0;
  v.drag_area_m2 = 0.6;
  v.launch = {{0.0, 0.0}, {0.35, 0.75}, {0.6, 1.0}};
  v.gear_changes = {{9.5, gap_s}, {15.5, gap_s}, {20.5, gap_s}};
  return v;
}

Vehicle electric(double ramp_s) {
  Vehicle v;
  v.pull_N = 700.0;
  v.power_W = 9000.0;
  v.mass_kg = 190.0;
  v.effective_mass_kg = 198.0;
  v.launch = {{0.0, 0.0}, {0.2 * ramp_s, 0.1}, {0.5 * ramp_s, 0.5}, {0.8 * ramp_s, 0.9}, {ramp_s, 1.0}};
  return v;
}

Vehicle moped() {
  Vehicle v = scooter();
  v.pull_N = 380.0;
  v.power_W = 2900.0;
  v.mass_kg = 165.0;
  v.effective_mass_kg = 172.0;
  v.drag_area_m2 = 0.5;
  v.drive = {{11.9, 1.0}, {45.0 / 3.6, 0.0}};  // the governor
  return v;
}

Vehicle slipping_car() {
  Vehicle v;
  v.pull_N = 4600.0;
  v.power_W = 62000.0;
  v.mass_kg = 1100.0;
  v.effective_mass_kg = 1180.0;
  v.drag_area_m2 = 0.75;
  v.rolling = 0.012;
  v.launch = {{0.0, 0.0}, {0.12, 1.0}, {0.22, 1.2}, {0.40, 0.7}, {0.65, 0.8}, {0.9, 1.05}, {1.1, 1.0}};
  return v;
}

double full_force_N(const Vehicle& vehicle, double v_mps) {
  const double most_N = v_mps * vehicle.pull_N > vehicle.power_W ? vehicle.power_W / v_mps : vehicle.pull_N;
  return most_N * drive_share(vehicle.drive, v_mps);
}

double launch_share(const Vehicle& vehicle, double t_s) {
  const auto& points = vehicle.launch;
  if (points.empty()) {
    return 1.0;
  }
  if (t_s < points.front().t_s) {
    return 0.0;
  }
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (t_s < points[i].t_s) {
      const auto& a = points[i - 1];
      const auto& b = points[i];
      return a.share + (b.share - a.share) * (t_s - a.t_s) / (b.t_s - a.t_s);
    }
  }
  return points.back().share;
}

double resistance_N(const Vehicle& vehicle, double v_mps, double slope, double wind_mps,
                    double cross_wind_mps) {
  const double cosine = 1.0 / std::sqrt(1.0 + slope * slope);
  const double weight_N = vehicle.mass_kg * gravity_mps2;
  const double air_mps = v_mps + wind_mps;
  return vehicle.constant_N + weight_N * cosine * (vehicle.rolling + slope) +
         0.5 * vehicle.air_kg_m3 * vehicle.drag_area_m2 * air_mps * std::hypot(air_mps, cross_wind_mps);
}

}  // namespace bothways::sim
