#pragma once

#include "bothways/core/split_spec.hpp"
#include "support/simulate/ride.hpp"
#include "truth/population/device.hpp"

#include <cstdint>
#include <string>
#include <vector>

namespace bothways::population {

/// A number of its own for each (seed, index, purpose), so that rides do not depend on how many are drawn.
[[nodiscard]] std::uint64_t mixed(std::uint64_t seed, std::uint64_t index, std::uint64_t purpose);

[[nodiscard]] Device draw_device(Kind kind, sim::Random& random);

/// A vehicle and its rider.
struct Machine {
  std::string name;    ///< moped, scooter, motorcycle, electric, kart, car
  std::string launch;  ///< creep, slip, ramp, spin, at once
  sim::Vehicle vehicle;
  sim::Scatter scatter;
  bool change_on_mark = false;    ///< a gear change falls on the first or second mark
  std::vector<SplitSpec> splits;  ///< to a first and a second mark, between them, and 60 ft: `split_names`
};

/// Splits in a table stand together by what they are; mopeds are timed to 20 and 25 mph instead.
inline constexpr int splits_asked = 4;
inline constexpr const char* split_names[splits_asked] = {"0-30 mph", "0-50 mph", "30-50 mph", "60 ft"};

[[nodiscard]] Machine draw_machine(sim::Random& random);

/// Wind and air of an hour, and what the day does to the drive.
struct Weather {
  double wind_mps = 0.0;   ///< along the road, head wind for travel to rising x
  double cross_mps = 0.0;  ///< across it
  double gust_sd_mps = 0.0;
  double gust_time_s = 8.0;
  double air_kg_m3 = 1.2;
  double day_drive = 1.0;  ///< factor on the drive
};

[[nodiscard]] Weather draw_weather(sim::Random& random);
/// A later hour of the same day.
[[nodiscard]] Weather later(const Weather& weather, sim::Random& random);
[[nodiscard]] sim::Road draw_road(sim::Random& random);

/// What the rider does: runs both ways, with or without the traffic of a whole ride about them.
struct Plan {
  int pairs = 3;
  bool traffic =
      true;  ///< lights, a jab, an aborted start and the like on the way out, lights on the way home
};

/// The ride as it was.
/// @throws std::invalid_argument  if the vehicle cannot go where it is sent: draw other weather.
[[nodiscard]] sim::Truth draw_ride(const Machine& machine, const sim::Road& road, const Weather& weather,
                                   const Plan& plan, std::uint64_t seed);

/// One start as usual on a level road in still air of this density, kg/m^3: the measurand of all that is
/// averaged over both ways.
[[nodiscard]] sim::Truth level_start(const Machine& machine, double air_kg_m3);

/// The speed that a vehicle comes to at full throttle with something to spare.
[[nodiscard]] double reach_mps(const sim::Vehicle& vehicle, double slope, double head_mps, double cross_mps,
                               double drive);

}  // namespace bothways::population
