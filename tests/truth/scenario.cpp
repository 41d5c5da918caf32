#include "truth/scenario.hpp"

#include "bothways/core/units.hpp"

namespace bothways::truth {

std::vector<Scenario> scenarios() {
  const sim::Scatter none;
  std::vector<Scenario> all{{"scooter", sim::scooter(), {}},
                            {"motorcycle", sim::geared_motorcycle(), {}},
                            {"electric", sim::electric(), {}},
                            {"car", sim::slipping_car(), {}}};
  all.push_back({"slope2", sim::scooter(), {.slope = 0.02}, none});
  all.push_back({"slope2-motorcycle", sim::geared_motorcycle(), {.slope = 0.02}, none});
  all.push_back({"wind3", sim::scooter(), {.wind_mps = 3.0}, none});
  all.push_back({"gusts", sim::scooter(), {.slope = 0.01, .wind_mps = 2.0, .gust_sd_mps = 0.7}, none});
  return all;
}

bool has_flat_truth(const Scenario& scenario) {
  return scenario.scatter.force == 0.0 && scenario.scatter.launch == 0.0 && scenario.scatter.gap == 0.0;
}

sim::Truth flat_ride(const Scenario& scenario) {
  const double top_mps = 55.0 * mps_per_mph;
  sim::Script script = sim::one_way(top_mps, 200.0, 5.0);
  sim::append(script, sim::one_way(top_mps, 200.0, 5.0));
  return sim::ride(scenario.vehicle, {.wind_mps = scenario.road.wind_mps}, script);
}

sim::Truth draw_ride(const Scenario& scenario, std::uint64_t index) {
  sim::Random random(0x7275746855ULL + 1000003ULL * index);
  const double top_mps = random.uniform(52.0, 55.0) * mps_per_mph;
  sim::Script script = sim::town(2, random);
  sim::append(script, sim::jab(random));
  // 15-20 mph: lifted before any mark that is asked, 60 ft included.
  sim::append(script, sim::aborted(random, 15.0, 20.0));
  sim::append(script, sim::rolling_start(top_mps, random));
  const double stretch_m = sim::run_length_m(scenario.vehicle, top_mps);
  const int both = random.integer(3, 6);
  for (int i = 0; i < 2 * both; ++i) {
    sim::append(script, sim::one_way(top_mps, stretch_m, random.uniform(8.0, 30.0)));
  }
  sim::append(script, sim::town(1, random));
  return sim::ride(scenario.vehicle, scenario.road, script, index + 1, scenario.scatter);
}

}  // namespace bothways::truth
