#include "truth/scenario.hpp"

#include "bothways/core/units.hpp"
#include "support/simulate/profile.hpp"

#include <filesystem>
#include <utility>

namespace bothways::truth {

namespace {

/// Cars in town traffic: real starts, gentle ones too, timed to 40 km/h.
void add_profiles(std::vector<Scenario>& all) {
  for (const char* place : {"kingston", "toronto"}) {
    const auto path = std::filesystem::path(BOTHWAYS_SHARED_DATA) / "profiles" /
                      (std::string(place) + "_ins5hz") / "truth.csv";
    if (std::filesystem::exists(path)) {
      Scenario scenario{.name = place};
      scenario.splits = "0-20 km/h, 0-30 km/h, 0-40 km/h, 20-40 km/h";
      scenario.include_gentle = true;
      scenario.profile = sim::truth_of_profile(path, Speed::from_kmh(20).mps());
      all.push_back(std::move(scenario));
    }
  }
}

}  // namespace

std::vector<Scenario> scenarios() {
  const sim::Scatter none;
  std::vector<Scenario> all{{"scooter", sim::scooter(), {}},
                            {"motorcycle", sim::geared_motorcycle(), {}},
                            {"electric", sim::electric(), {}},
                            {"car", sim::slipping_car(), {}}};
  all.push_back({"slope2", sim::scooter(), {.slope = 0.02}, none});
  all.push_back(
      {"dip", sim::scooter(), {.bend_per_m = 1e-4, .bend_x_m = 900.0, .bend_reach_m = 400.0}, none});
  all.push_back({"slope2-motorcycle", sim::geared_motorcycle(), {.slope = 0.02}, none});
  all.push_back({"wind3", sim::scooter(), {.wind_mps = 3.0}, none});
  all.push_back({"gusts", sim::scooter(), {.slope = 0.01, .wind_mps = 2.0, .gust_sd_mps = 0.7}, none});
  add_profiles(all);
  return all;
}

bool has_flat_truth(const Scenario& scenario) {
  return !scenario.profile && scenario.road.bend_per_m == 0.0 && scenario.scatter.force == 0.0 &&
         scenario.scatter.launch == 0.0 && scenario.scatter.gap == 0.0;
}

sim::Truth flat_ride(const Scenario& scenario) {
  const double top_mps = 55.0 * mps_per_mph;
  sim::Script script = sim::one_way(top_mps, 200.0, 5.0);
  sim::append(script, sim::one_way(top_mps, 200.0, 5.0));
  return sim::ride(scenario.vehicle, {.wind_mps = scenario.road.wind_mps}, script);
}

sim::Truth draw_ride(const Scenario& scenario, std::uint64_t index) {
  if (scenario.profile) {
    return *scenario.profile;
  }
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
