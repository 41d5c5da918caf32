#pragma once

#include "support/simulate/random.hpp"

#include <vector>

namespace bothways::sim {

/// What the rider means by opening the throttle.
enum class StartKind {
  run,      ///< standing start at full throttle to beyond the first mark
  gentle,   ///< standing start with part of the throttle: traffic
  lifted,   ///< standing start at full throttle, closed before the first mark
  rolling,  ///< full throttle to high speed from a roll of 5-12 mph
  jab       ///< short burst of full throttle from a roll of 5-12 mph
};

[[nodiscard]] const char* to_string(StartKind kind);

/// One thing after another that the rider does. Make phases with the functions below.
struct Phase {
  enum class Act { stand, start, travel, coast, turn };
  Act act = Act::stand;
  double duration_s = 0.0;          ///< stand
  StartKind kind = StartKind::run;  ///< start
  double throttle = 1.0;            ///< start: 0..1
  double open_s = 0.0;              ///< start: time to open it
  double until_mps = 0.0;           ///< start: the throttle is closed here; travel, turn: speed to hold
  double end_mps = 0.0;             ///< travel, coast: speed at its end; 0 stops
  double distance_m = 0.0;          ///< travel; 0: as short as braking allows
  bool from_stand = false;          ///< travel: distance_m counts from where the vehicle last stood
  double brake_mps2 = 2.5;          ///< travel
  double ease_mps = 0.0;            ///< travel: below this speed the brake is eased, to a quarter at 0
  double angle_deg = 0.0;           ///< turn, positive to the right
  double radius_m = 6.0;            ///< turn
};

using Script = std::vector<Phase>;

[[nodiscard]] Phase stand(double duration_s);
/// Full throttle until the speed is reached.
[[nodiscard]] Phase full_start(double until_mps, StartKind kind = StartKind::run);
/// Part of the throttle, opened slowly, as in traffic.
[[nodiscard]] Phase gentle_start(double until_mps, double throttle = 0.5, double open_s = 0.8);
/// Rides distance_m at cruise_mps and is at end_mps when it is done.
[[nodiscard]] Phase travel(double distance_m, double cruise_mps, double end_mps = 0.0,
                           double brake_mps2 = 2.5);
/// Brakes or coasts to a speed at once.
[[nodiscard]] Phase slow_to(double end_mps, double brake_mps2 = 2.5);
/// Rolls on without drive or brake until the speed has fallen to end_mps.
[[nodiscard]] Phase coast_to(double end_mps);
[[nodiscard]] Phase turn(double angle_deg, double radius_m, double speed_mps);

void append(Script& script, const Script& more);

/// Traffic: gentle starts to 25-35 mph between lights, with stops of 3-25 s. Ends stopped.
[[nodiscard]] Script town(int lights, Random& random);
/// Away gently, down to a roll of 5-12 mph, then a jab of throttle or full throttle to high speed, and a
/// stop.
[[nodiscard]] Script jab(Random& random);
[[nodiscard]] Script rolling_start(double until_mps, Random& random);
/// A standing start lifted between two speeds, and a stop.
[[nodiscard]] Script aborted(Random& random, double lo_mph = 15.0, double hi_mph = 25.0);
/// Standing start to top_mps, stop, U-turn, and a slow ride back to stretch_m from the place of the start:
/// ready for the way back. A rider starts back where the run out ended: stretch_m is the length of a run.
/// stand_s: time at rest before the start.
[[nodiscard]] Script one_way(double top_mps, double stretch_m, double stand_s);

}  // namespace bothways::sim
