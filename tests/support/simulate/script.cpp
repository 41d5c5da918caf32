#include "support/simulate/script.hpp"

#include "bothways/core/units.hpp"

namespace bothways::sim {

const char* to_string(StartKind kind) {
  switch (kind) {
    case StartKind::run:
      return "run";
    case StartKind::gentle:
      return "gentle";
    case StartKind::lifted:
      return "lifted";
    case StartKind::rolling:
      return "rolling";
    case StartKind::jab:
      return "jab";
  }
  return "";
}

Phase stand(double duration_s) {
  return {.act = Phase::Act::stand, .duration_s = duration_s};
}

Phase full_start(double until_mps, StartKind kind) {
  return {.act = Phase::Act::start, .kind = kind, .until_mps = until_mps};
}

Phase gentle_start(double until_mps, double throttle, double open_s) {
  return {.act = Phase::Act::start,
          .kind = StartKind::gentle,
          .throttle = throttle,
          .open_s = open_s,
          .until_mps = until_mps};
}

Phase travel(double distance_m, double cruise_mps, double end_mps, double brake_mps2) {
  return {.act = Phase::Act::travel,
          .until_mps = cruise_mps,
          .end_mps = end_mps,
          .distance_m = distance_m,
          .brake_mps2 = brake_mps2};
}

Phase slow_to(double end_mps, double brake_mps2) {
  return travel(0.0, 0.0, end_mps, brake_mps2);
}

Phase coast_to(double end_mps) {
  return {.act = Phase::Act::coast, .end_mps = end_mps};
}

Phase turn(double angle_deg, double radius_m, double speed_mps) {
  return {.act = Phase::Act::turn, .until_mps = speed_mps, .angle_deg = angle_deg, .radius_m = radius_m};
}

void append(Script& script, const Script& more) {
  script.insert(script.end(), more.begin(), more.end());
}

Script town(int lights, Random& random) {
  Script script;
  for (int i = 0; i < lights; ++i) {
    const double speed_mps = random.uniform(25.0, 35.0) * mps_per_mph;
    // Each draw in a statement of its own: compilers differ in the order of arguments.
    const double wait_s = random.uniform(3.0, 25.0);
    const double open_s = random.uniform(0.5, 1.2);
    const double throttle = random.uniform(0.4, 0.6);
    const double brake_mps2 = random.uniform(1.5, 3.0);
    const double distance_m = random.uniform(40.0, 220.0);
    script.push_back(stand(wait_s));
    script.push_back(gentle_start(speed_mps, throttle, open_s));
    script.push_back(travel(distance_m, speed_mps, 0.0, brake_mps2));
  }
  return script;
}

namespace {

/// Away in traffic, then down to a roll of 5-12 mph.
Script to_a_roll(double roll_mps, Random& random) {
  const double traffic_mps = random.uniform(20.0, 28.0) * mps_per_mph;
  return {stand(random.uniform(4.0, 10.0)), gentle_start(traffic_mps, random.uniform(0.4, 0.6)),
          travel(random.uniform(20.0, 60.0), traffic_mps, roll_mps),
          travel(random.uniform(5.0, 20.0), roll_mps, roll_mps)};
}

}  // namespace

Script jab(Random& random) {
  const double roll_mps = random.uniform(5.0, 12.0) * mps_per_mph;
  Script script = to_a_roll(roll_mps, random);
  append(script,
         {full_start(roll_mps + random.uniform(8.0, 13.0) * mps_per_mph, StartKind::jab), slow_to(0.0)});
  return script;
}

Script rolling_start(double until_mps, Random& random) {
  Script script = to_a_roll(random.uniform(5.0, 12.0) * mps_per_mph, random);
  append(script, {full_start(until_mps, StartKind::rolling), slow_to(0.0)});
  return script;
}

Script aborted(Random& random, double lo_mph, double hi_mph) {
  return {stand(random.uniform(6.0, 15.0)),
          full_start(random.uniform(lo_mph, hi_mph) * mps_per_mph, StartKind::lifted), slow_to(0.0)};
}

Script one_way(double top_mps, double stretch_m, double stand_s) {
  constexpr double walking_mps = 3.0;
  constexpr double beyond_m = 130.0;  // room to brake
  return {stand(stand_s), full_start(top_mps),
          Phase{.act = Phase::Act::travel,
                .until_mps = 0.7 * top_mps,
                .end_mps = walking_mps,
                .distance_m = stretch_m + beyond_m,
                .from_stand = true,
                .brake_mps2 = 3.0},
          turn(180.0, 4.0, walking_mps), travel(beyond_m, 5.0, 0.0, 1.5)};
}

}  // namespace bothways::sim
