#include "lib/trip/trip_rides.hpp"

#include "bothways/speed/derive.hpp"
#include "support/simulate/ride.hpp"

using namespace bothways;

sim::Truth lights_and_runs(std::uint64_t seed, double home_m) {
  sim::Random random(seed);
  const double top_mps = Speed::from_mph(53.0).mps();
  const double stretch_m = sim::run_length_m(sim::scooter(), top_mps);
  sim::Script script = sim::town(3, random);
  for (int i = 0; i < 4; ++i) {
    sim::append(script, sim::one_way(top_mps, stretch_m, 9.0));
  }
  if (home_m > 0.0) {
    sim::append(script, {sim::stand(8.0), sim::gentle_start(13.0), sim::travel(home_m, 14.0)});
  }
  sim::append(script, {sim::stand(8.0)});
  return sim::ride(sim::scooter(), {}, script, seed, {0.01, 0.1, 0.0});
}

Trip trip_in(const Log& log) {
  return trip_of(log, speed_series(log));
}
