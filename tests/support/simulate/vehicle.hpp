#pragma once

#include <vector>

namespace bothways::sim {

/// Share of the full drive force that reaches the ground, t_s after the throttle was opened at rest.
struct LaunchPoint {
  double t_s = 0.0;
  double share = 1.0;
};

/// Full-throttle gear change: the drive is lost for gap_s once the speed is reached.
struct GearChange {
  double at_mps = 0.0;
  double gap_s = 0.0;
};

/// Drive at a speed as a share of min(pull_N, power_W / v).
struct DrivePoint {
  double v_mps = 0.0;
  double share = 1.0;
};

/// A vehicle as a force against speed. F = min(pull_N, power_W / v), less rolling resistance, slope and air.
/// Defaults: the made-up scooter of the reference figures: 15 hp at the crank, 80 % to the wheel.
struct Vehicle {
  double pull_N = 650.0;
  double power_W = 12.0 * 745.69987158;  ///< 8948 W
  double mass_kg = 200.0;
  double effective_mass_kg = 210.0;  ///< rotating parts included
  double drag_area_m2 = 0.55;        ///< CdA
  double rolling = 0.015;            ///< rolling resistance as a share of weight
  double air_kg_m3 = 1.2;
  double constant_N = 0.0;          ///< further resistance, constant
  std::vector<LaunchPoint> launch;  ///< rising in t_s; before the first point 0, after the last as the last
  std::vector<GearChange> gear_changes;  ///< rising in at_mps
  std::vector<DrivePoint> drive;         ///< rising in v_mps, straight between, level beyond; empty: 1
};

/// The scooter without a clutch: full force at once.
[[nodiscard]] Vehicle plain_scooter();
/// Scooter whose centrifugal clutch creeps with a weak pull for creep_s and then snatches.
[[nodiscard]] Vehicle scooter(double creep_s = 0.3, double creep_share = 0.2);
/// Motorcycle with a slipped clutch and gear changes that interrupt the drive for gap_s.
[[nodiscard]] Vehicle geared_motorcycle(double gap_s = 0.25);
/// Electric scooter: the force rises smoothly within ramp_s.
[[nodiscard]] Vehicle electric(double ramp_s = 0.15);
/// Moped of 45 km/h: little power, a clutch that creeps, a governor.
[[nodiscard]] Vehicle moped();
/// Car whose wheels slip: the force overshoots, dips within the first second, and settles.
[[nodiscard]] Vehicle slipping_car();

/// Force at full throttle, N, with the clutch closed. v_mps >= 0.
[[nodiscard]] double full_force_N(const Vehicle& vehicle, double v_mps);
/// Share of it that the launch lets through. t_s: since the throttle was opened.
[[nodiscard]] double launch_share(const Vehicle& vehicle, double t_s);
/// Rolling resistance + slope + air, N, against the motion. wind_mps > 0: head wind. slope: rise per run.
/// Of wind across the road the drag that its part along the road has: it makes the air faster.
[[nodiscard]] double resistance_N(const Vehicle& vehicle, double v_mps, double slope, double wind_mps,
                                  double cross_wind_mps = 0.0);

}  // namespace bothways::sim
