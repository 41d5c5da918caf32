#include "bothways/core/units.hpp"
#include "truth/population/draw.hpp"
#include "truth/population/ranges.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace bothways::population {

namespace {

/// The worst that a ride may meet on its way.
struct Worst {
  double slope = 0.0;
  double head_mps = 0.0;
  double cross_mps = 0.0;
  double drive = 1.0;
};

Worst worst_of(const Machine& machine, const sim::Road& road) {
  Worst worst{.slope = std::abs(road.slope),
              .head_mps = std::abs(road.wind_mps) + 3.0 * road.gust_sd_mps,
              .cross_mps = road.cross_wind_mps,
              .drive = std::max(0.5, 1.0 - 3.5 * machine.scatter.force)};
  double most = 0.0;
  for (const double slope : road.slopes) {
    most = std::max(most, std::abs(slope));
  }
  worst.slope += most;
  return worst;
}

/// Writes the ride's script, piece by piece.
class Scripter {
 public:
  Scripter(const Machine& machine, const sim::Road& road, sim::Random& random)
      : vehicle_(machine.vehicle), worst_(worst_of(machine, road)), random_(random) {
    const double reach = reach_mps(vehicle_, worst_.slope, worst_.head_mps, worst_.cross_mps, worst_.drive);
    marks_mps_[0] = std::get<Speed>(machine.splits[0].to).mps();
    marks_mps_[1] = std::get<Speed>(machine.splits[1].to).mps();
    top_mps_ = std::min(reach, marks_mps_[1] + random_.uniform(0.7, 3.5));
    if (top_mps_ < marks_mps_[0] + 0.5) {
      throw std::invalid_argument("too weak for this road and wind");
    }
    length_m_ = sim::run_length_m(vehicle_, std::min(top_mps_, reach_mps(vehicle_, 0.0, 0.0, 0.0, 1.0)));
  }

  /// Traffic lights: standing starts with part of the throttle, of several strengths.
  void lights(int count) {
    for (int i = 0; i < count; ++i) {
      wait(2.0, 45.0);
      const double speed_mps = traffic_start();
      cruise(random_.uniform(30.0, 250.0), speed_mps);
      stop();
    }
  }

  /// Full throttle out of a roll, to high speed or for a moment.
  void from_a_roll(bool is_jab) {
    const double roll_mps = std::min(0.45 * top_mps_, random_.uniform(2.2, 5.4));
    wait(3.0, 12.0);
    const double traffic_mps = traffic_start(roll_mps + 1.0);
    const double meters = random_.uniform(20.0, 60.0);
    script_.push_back(sim::travel(meters, traffic_mps, roll_mps));
    script_.push_back(sim::travel(random_.uniform(4.0, 20.0), roll_mps, roll_mps));
    const double to_mps = is_jab ? std::min(top_mps_, roll_mps + random_.uniform(3.0, 6.0)) : top_mps_;
    script_.push_back(sim::full_start(to_mps, is_jab ? sim::StartKind::jab : sim::StartKind::rolling));
    stop();
  }

  /// Rolls at walking pace for some seconds before the throttle is opened.
  void from_a_crawl() {
    wait(3.0, 12.0);
    const double walk_mps = random_.uniform(0.8, 2.0);
    script_.push_back(sim::gentle_start(walk_mps, throttle_for(3.0), random_.uniform(0.5, 1.5)));
    script_.push_back(sim::travel(walk_mps * random_.uniform(2.0, 5.0), walk_mps, walk_mps));
    script_.push_back(sim::full_start(top_mps_, sim::StartKind::rolling));
    stop();
  }

  /// Standing start at full throttle, lifted before the first mark or between the two.
  void aborted() {
    wait(4.0, 20.0);
    const double between = random_.uniform(1.08, std::max(1.1, 0.93 * marks_mps_[1] / marks_mps_[0]));
    const double share = chance(random_, 0.6) ? random_.uniform(0.45, 0.9) : between;
    script_.push_back(sim::full_start(std::min(top_mps_, share * marks_mps_[0]), sim::StartKind::lifted));
    stop();
  }

  /// A standing start, then back to about where it ended, ready for the other way.
  void run() {
    wait(2.0, 30.0);
    constexpr double walking_mps = 3.0;
    const double beyond_m = 130.0;
    const double stretch_m = std::max(0.5 * length_m_, length_m_ + random_.uniform(-10.0, 30.0));
    script_.push_back(sim::full_start(top_mps_));
    script_.push_back({.act = sim::Phase::Act::travel,
                       .until_mps = random_.uniform(0.5, 0.8) * top_mps_,
                       .end_mps = walking_mps,
                       .distance_m = stretch_m + beyond_m,
                       .from_stand = true,
                       .brake_mps2 = random_.uniform(2.0, 4.0)});
    script_.push_back(sim::turn(180.0, random_.uniform(3.0, 6.0), walking_mps));
    auto back = sim::travel(beyond_m, random_.uniform(4.0, 7.0), 0.0, random_.uniform(0.8, 3.0));
    back.ease_mps = ease();
    script_.push_back(back);
  }

  [[nodiscard]] const sim::Script& script() const { return script_; }

 private:
  void wait(double lo_s, double hi_s) { script_.push_back(sim::stand(log_even(random_, {lo_s, hi_s}))); }

  /// Least share of the throttle that takes the vehicle to a speed whatever it meets.
  [[nodiscard]] double throttle_for(double speed_mps) const {
    const double needed =
        sim::resistance_N(vehicle_, speed_mps, worst_.slope, worst_.head_mps, worst_.cross_mps) +
        0.2 * vehicle_.effective_mass_kg;
    const double least =
        std::min(sim::full_force_N(vehicle_, speed_mps), sim::full_force_N(vehicle_, 0.5 * speed_mps));
    return std::max(0.2, needed / (worst_.drive * least));
  }

  /// Away with part of the throttle; gives the speed it goes to.
  double traffic_start(double at_least_mps = 5.0) {
    double speed_mps = std::max(at_least_mps, random_.uniform(0.55, 1.0) * std::min(16.0, top_mps_));
    while (speed_mps > at_least_mps && throttle_for(speed_mps) > 0.62) {
      speed_mps -= 0.3;
    }
    const double least = throttle_for(speed_mps);
    if (least > 0.8) {
      throw std::invalid_argument("too weak for this road and wind");
    }
    const double throttle = random_.uniform(least, std::max(least, 0.65));
    script_.push_back(sim::gentle_start(speed_mps, throttle, random_.uniform(0.3, 2.0)));
    return speed_mps;
  }

  void cruise(double distance_m, double speed_mps) {
    script_.push_back(sim::travel(distance_m, speed_mps, 0.6 * speed_mps, random_.uniform(1.0, 2.5)));
  }

  /// Some riders brake to the very end, others ease off before.
  double ease() { return chance(random_, 0.4) ? 0.0 : random_.uniform(0.5, 4.0); }

  void stop() {
    auto brake = sim::slow_to(0.0, random_.uniform(1.5, 4.5));
    brake.ease_mps = ease();
    script_.push_back(brake);
  }

  const sim::Vehicle& vehicle_;
  Worst worst_;
  sim::Random& random_;
  double marks_mps_[2] = {0.0, 0.0};
  double top_mps_ = 0.0;
  double length_m_ = 0.0;
  sim::Script script_;
};

void other_starts(Scripter& scripter, sim::Random& random) {
  for (int i = random.integer(1, 4); i > 0; --i) {
    switch (random.integer(0, 4)) {
      case 0:
        scripter.from_a_roll(true);
        break;
      case 1:
        scripter.from_a_roll(false);
        break;
      case 2:
        scripter.from_a_crawl();
        break;
      default:
        scripter.aborted();
        break;
    }
  }
}

}  // namespace

std::uint64_t mixed(std::uint64_t seed, std::uint64_t index, std::uint64_t purpose) {
  std::uint64_t z =
      seed * 0x9E3779B97F4A7C15ULL + index * 0xD1B54A32D192ED03ULL + purpose * 0x8CB92BA72F3D8DD7ULL;
  z = (z ^ (z >> 30U)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27U)) * 0x94D049BB133111EBULL;
  return z ^ (z >> 31U);
}

Weather draw_weather(sim::Random& random) {
  Weather weather;
  const double wind_mps = even(random, range::wind_mps);
  const double from_rad = random.uniform(0.0, 2.0 * std::numbers::pi);
  weather.wind_mps = wind_mps * std::cos(from_rad);
  weather.cross_mps = std::abs(wind_mps * std::sin(from_rad));
  weather.gust_sd_mps = wind_mps * even(random, range::gust_share);
  weather.gust_time_s = log_even(random, range::gust_time_s);
  weather.air_kg_m3 = even(random, range::air_kg_m3);
  return weather;
}

Weather later(const Weather& weather, sim::Random& random) {
  Weather next = weather;
  const double wind_mps = std::hypot(weather.wind_mps, weather.cross_mps);
  const double change_mps = std::hypot(range::later_wind_mps, range::later_wind_share * wind_mps);
  next.wind_mps += change_mps * random.normal();
  next.cross_mps = std::abs(weather.cross_mps + change_mps * random.normal());
  return next;
}

sim::Road draw_road(sim::Random& random) {
  sim::Road road;
  road.heading_deg = random.uniform(0.0, 360.0);
  road.slope = even(random, range::slope);
  const double sd = log_even(random, range::slope_sd);
  const double length_m = log_even(random, range::slope_length_m);
  road.slopes_step_m = 25.0;
  road.slopes_from_m = -3000.0;
  sim::SlowNoise bends(sd, length_m, random);
  for (int i = 0; i < 400; ++i) {  // ten kilometres
    road.slopes.push_back(std::clamp(bends.step(road.slopes_step_m, random), -2.5 * sd, 2.5 * sd));
  }
  return road;
}

sim::Truth draw_ride(const Machine& machine, const sim::Road& road, const Weather& weather, const Plan& plan,
                     std::uint64_t seed) {
  sim::Random random(seed);
  sim::Road windy = road;
  windy.wind_mps = weather.wind_mps;
  windy.cross_wind_mps = weather.cross_mps;
  windy.gust_sd_mps = weather.gust_sd_mps;
  windy.gust_time_s = weather.gust_time_s;
  Machine today = machine;
  today.vehicle.air_kg_m3 = weather.air_kg_m3;
  today.vehicle.pull_N *= weather.day_drive;
  today.vehicle.power_W *= weather.day_drive;
  Scripter scripter(today, windy, random);
  if (plan.traffic) {
    scripter.lights(random.integer(1, 4));
    other_starts(scripter, random);
  }
  for (int i = 0; i < 2 * plan.pairs; ++i) {
    scripter.run();
  }
  if (plan.traffic) {
    scripter.lights(random.integer(1, 3));
  }
  return sim::ride(today.vehicle, windy, scripter.script(), mixed(seed, 1, 1), machine.scatter);
}

}  // namespace bothways::population
