#pragma once

#include "bothways/core/estimate.hpp"
#include "bothways/core/quantity.hpp"
#include "bothways/pair/pair.hpp"
#include "bothways/run/ride.hpp"

#include <vector>

namespace bothways {

/// What the road and the air take, and what has to be sped up. A range is carried into the intervals as an
/// even spread; one figure is taken as exact, but for the mass, whose weighing is taken to be good to 1 %.
struct RoadLoad {
  Range mass_kg{200.0, 200.0};     ///< vehicle, rider, fuel, load; > 0
  Range rotating{0.03, 0.07};      ///< wheels and what turns with them, as a share of the mass
  Range drag_area_m2{0.40, 0.70};  ///< two-wheelers with a rider: books, from memory
  Range rolling{0.015, 0.025};     ///< rolling resistance over weight: books, from memory
  Estimate air_kg_m3{1.2, 0.04, 1.12, 1.28};
  Range wind_mps{0.0, 3.0};  ///< only its square counts: the rest drops out between the directions
};

/// Acceleration on the flat at one speed, and the power at the road that it takes.
struct PowerRow {
  double v_mps = 0.0;
  int pairs = 0;  ///< that reach beyond this speed
  Estimate a_mps2;
  Estimate power_w;
};

struct RoadPower {
  RoadLoad load;
  std::vector<PowerRow> rows;  ///< rising in v_mps; empty where no pair reaches any of the speeds
};

/// Power at the road against speed, both directions averaged.
///
/// Each run gives the mean acceleration over 3 m/s about the speed; the two of a pair are averaged, so that
/// slope drops out, and the pairs of all rides after that. Then
///     P = v (m (1 + rotating) a + rolling m g + rho CdA (v^2 + w^2) / 2).
/// It is an estimate at the road, not at the crank, and holds for full throttle. The interval has the scatter
/// between pairs, the receiver, and the ranges of `load` in it.
/// @param speeds_mps  where to look, > 1.5 m/s, rising
/// @throws std::invalid_argument  if the mass is not above 0.
/// Checked against the known wheel power of the simulated scooter (test "power at the road is that of the
/// simulated scooter"). Model and figures of the scooter: our own; typical drag and rolling: from memory.
[[nodiscard]] RoadPower road_power(const std::vector<Ride>& rides, const Pairs& pairs, const RoadLoad& load,
                                   const std::vector<double>& speeds_mps);

}  // namespace bothways
