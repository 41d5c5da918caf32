#include "bothways/core/units.hpp"
#include "truth/population/draw.hpp"
#include "truth/population/ranges.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways::population {

namespace {

/// What a kind of vehicle is drawn from. Pull and power at the wheel, mass with its rider.
struct Make {
  const char* name = "";
  Range pull;   ///< N
  Range power;  ///< W
  Range mass_kg;
  Range drag_area_m2;
  Range turning;  ///< rotating parts, share of the mass
  bool gears = false;
};

// From data sheets and books, from memory: a moped of 45 km/h gives 1.5 to 3 kW, scooters of 50 to 300 cc 4
// to 20 kW, a kart 6 to 20 kW at 150 kg. Drag areas: 0.40 to 0.70 upright, cars 0.6 to 0.8.
constexpr Make makes[] = {
    {"moped", {260, 450}, {1900, 3300}, {140, 200}, {0.45, 0.70}, {0.03, 0.07}, false},
    {"scooter", {420, 950}, {6000, 20000}, {170, 270}, {0.45, 0.70}, {0.03, 0.08}, false},
    {"motorcycle", {700, 2400}, {9000, 60000}, {190, 340}, {0.40, 0.65}, {0.04, 0.10}, true},
    {"electric", {450, 2200}, {6000, 50000}, {150, 330}, {0.40, 0.70}, {0.02, 0.06}, false},
    {"kart", {450, 1300}, {6000, 20000}, {140, 190}, {0.45, 0.65}, {0.03, 0.08}, false},
    {"car", {2600, 8000}, {35000, 220000}, {900, 1900}, {0.55, 0.85}, {0.04, 0.12}, true}};

constexpr Range rolling{0.010, 0.025};
constexpr double mark_mps[2] = {30.0 * mps_per_mph, 50.0 * mps_per_mph};

/// The drive over its simple law: up to a twelfth more or less, changing over some metres a second.
void draw_drive(sim::Vehicle& v, bool is_moped, sim::Random& random) {
  const double top_mps = is_moped ? 11.6 : 32.0;
  double at_mps = 0.0;
  while (at_mps <= top_mps) {
    v.drive.push_back({at_mps, random.uniform(0.92, 1.08)});
    at_mps += random.uniform(2.0, 5.0);
  }
  if (is_moped) {  // its limiter
    v.drive.push_back({12.2, 0.9});
    v.drive.push_back({13.2, 0.0});
  }
}

/// A centrifugal clutch that creeps and then snatches.
void creep(sim::Vehicle& v, sim::Random& random) {
  const double share = random.uniform(0.03, 0.35);
  const double creep_s = log_even(random, {0.1, 1.5});
  const double snatch_s = random.uniform(0.03, 0.25);
  const double over = random.uniform(1.0, 1.25);
  const double settle_s = random.uniform(0.1, 0.6);
  v.launch = {{0.0, 0.0},
              {0.04, share},
              {0.04 + creep_s, share},
              {0.04 + creep_s + snatch_s, over},
              {0.04 + creep_s + snatch_s + settle_s, 1.0}};
}

/// Wheels that spin: more than the drive for a moment, then less, then all of it.
void spin(sim::Vehicle& v, sim::Random& random) {
  const double on_s = random.uniform(0.05, 0.2);
  const double over_s = on_s + random.uniform(0.1, 0.4);
  const double slip_s = over_s + random.uniform(0.05, 0.2);
  const double grip_s = slip_s + random.uniform(0.1, 0.8);
  const double slipping = random.uniform(0.55, 0.9);
  v.launch = {
      {0.0, 0.0}, {on_s, random.uniform(1.0, 1.25)}, {over_s, 1.0}, {slip_s, slipping}, {grip_s, slipping}};
  v.launch.push_back({grip_s + 0.2, 1.0});
}

/// A clutch let in by hand.
void slip(sim::Vehicle& v, sim::Random& random) {
  const double first_s = random.uniform(0.1, 0.6);
  const double first = random.uniform(0.5, 0.95);
  v.launch = {{0.0, 0.0}, {first_s, first}, {first_s + random.uniform(0.1, 0.8), 1.0}};
}

/// A force that rises smoothly.
void ramp(sim::Vehicle& v, sim::Random& random) {
  const double rise_s = log_even(random, {0.05, 0.8});
  v.launch = {{0.0, 0.0}, {0.2 * rise_s, 0.1}, {0.5 * rise_s, 0.5}, {0.8 * rise_s, 0.9}, {rise_s, 1.0}};
}

void draw_launch(Machine& machine, bool gears, sim::Random& random) {
  const double which = random.uniform();
  const bool clutch = machine.name == "moped" || machine.name == "scooter" || machine.name == "kart";
  if (machine.name == "electric") {
    machine.launch = "ramp";
    ramp(machine.vehicle, random);
  } else if (which < 0.15) {
    machine.launch = "at once";
    machine.vehicle.launch = {{0.0, 0.0}, {0.03, 1.0}};
  } else if (which < 0.3) {
    machine.launch = "spin";
    spin(machine.vehicle, random);
  } else if (clutch) {
    machine.launch = "creep";
    creep(machine.vehicle, random);
  } else if (gears) {
    machine.launch = "slip";
    slip(machine.vehicle, random);
  }
}

/// Changes at speeds some 1.3 to 1.8 times apart; one in three vehicles changes just about a mark.
void draw_gears(Machine& machine, sim::Random& random) {
  const double gap_s = log_even(random, {0.05, 0.5});
  auto& changes = machine.vehicle.gear_changes;
  double at_mps = random.uniform(6.0, 14.0);
  while (at_mps < 32.0) {
    changes.push_back({at_mps, gap_s});
    at_mps *= random.uniform(1.3, 1.8);
  }
  machine.change_on_mark = chance(random, 1.0 / 3.0);
  if (machine.change_on_mark) {
    const double mark = mark_mps[random.integer(0, 1)] + random.uniform(-0.3, 0.1);
    const auto nearest = std::min_element(changes.begin(), changes.end(), [&](const auto& a, const auto& b) {
      return std::abs(a.at_mps - mark) < std::abs(b.at_mps - mark);
    });
    nearest->at_mps = mark;
  }
  std::sort(changes.begin(), changes.end(), [](const auto& a, const auto& b) { return a.at_mps < b.at_mps; });
}

Machine made(const Make& make, sim::Random& random) {
  Machine machine;
  machine.name = make.name;
  sim::Vehicle& v = machine.vehicle;
  v.pull_N = log_even(random, make.pull);
  v.power_W = log_even(random, make.power);
  v.mass_kg = even(random, make.mass_kg);
  v.effective_mass_kg = v.mass_kg * (1.0 + even(random, make.turning));
  v.drag_area_m2 = even(random, make.drag_area_m2);
  v.rolling = even(random, rolling);
  const bool is_moped = machine.name == "moped";
  draw_drive(v, is_moped, random);
  draw_launch(machine, make.gears, random);
  if (make.gears) {
    draw_gears(machine, random);
  }
  machine.splits = parse_splits(is_moped ? "0-20 mph, 0-25 mph, 20-25 mph, 60 ft"
                                         : "0-30 mph, 0-50 mph, 30-50 mph, 60 ft");
  machine.scatter = {.force = log_even(random, range::start_scatter),
                     .launch = log_even(random, range::launch_scatter),
                     .gap = log_even(random, range::gap_scatter)};
  return machine;
}

}  // namespace

double reach_mps(const sim::Vehicle& vehicle, double slope, double head_mps, double cross_mps, double drive) {
  constexpr double spare_mps2 = 0.2;
  double v_mps = 0.5;
  while (v_mps < 40.0 && drive * sim::full_force_N(vehicle, v_mps) -
                                 sim::resistance_N(vehicle, v_mps, slope, head_mps, cross_mps) >
                             spare_mps2 * vehicle.effective_mass_kg) {
    v_mps += 0.1;
  }
  return v_mps;
}

Machine draw_machine(sim::Random& random) {
  for (;;) {
    const Make& make = makes[random.integer(0, static_cast<int>(std::size(makes)) - 1)];
    Machine machine = made(make, random);
    const double least_mps = (machine.name == "moped" ? 26.0 : 52.0) * mps_per_mph;
    if (reach_mps(machine.vehicle, 0.0, 0.0, 0.0, 1.0) > least_mps) {
      return machine;  // else it is too weak for what it is to be timed to
    }
  }
}

sim::Truth level_start(const Machine& machine, double air_kg_m3) {
  sim::Vehicle vehicle = machine.vehicle;
  vehicle.air_kg_m3 = air_kg_m3;
  const double top_mps = std::min(25.0, reach_mps(vehicle, 0.0, 0.0, 0.0, 1.0));
  return sim::ride(vehicle, {}, {sim::stand(1.0), sim::full_start(top_mps)});
}

}  // namespace bothways::population
