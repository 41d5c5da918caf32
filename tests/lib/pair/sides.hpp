#pragma once

#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "lib/pair/made_up.hpp"

#include <string>
#include <vector>

/// Sides of a comparison with given two-way results.
namespace made_up {

struct Given {
  double time_s = 0.0;
  double sd_s = 0.0;
  double hour = 0.0;  ///< when it was ridden
};

inline TwoWay two_way_of(const std::string& name, double time_s, double sd_s) {
  TwoWay split{.spec = parse_splits(name).front(), .rollout = normal_estimate(time_s, sd_s)};
  split.movement = normal_estimate(time_s + 0.5, 2.0 * sd_s);
  split.as_ridden = split.rollout;
  split.as_ridden_movement = split.movement;
  split.plain_mean_s = time_s;
  split.drive_s = time_s;
  return split;
}

/// One ride, a pair for each result on the same 100 m of road.
inline Side side_of(const std::string& name, const std::string& split, const std::vector<Given>& given) {
  Side side{.name = name};
  side.rides.resize(1);
  side.rides[0].path = name + ".nmea";
  side.rides[0].receiver.rate_hz = 10.0;
  for (const Given& one : given) {
    Run out;
    out.length_m = 100.0;
    const int id = 2 * static_cast<int>(side.pairs.made.size()) + 1;
    side.rides[0].runs.accepted.push_back(placed(out, id, 3600.0 * one.hour, 0.0, true));
    side.rides[0].runs.accepted.push_back(placed(out, id + 1, 3600.0 * one.hour + 120.0, 100.0, false));
    Pair pair{.id = (id + 1) / 2, .first_run = id, .second_run = id + 1, .overlap = 1.0};
    pair.splits = {two_way_of(split, one.time_s, one.sd_s)};
    side.pairs.made.push_back(pair);
  }
  return side;
}

inline Side side_of(const std::string& name, const std::vector<double>& times_s, double sd_s = 0.0) {
  std::vector<Given> given;
  for (const double time_s : times_s) {
    given.push_back({time_s, sd_s, 0.1 * static_cast<double>(given.size())});
  }
  return side_of(name, "0-30 mph", given);
}

inline const std::vector<SplitSpec> one_split = parse_splits("0-30 mph");

inline Comparison compare_two(const Side& before, const Side& after,
                              const std::vector<SplitSpec>& splits = one_split) {
  return compare(std::vector<Side>{before, after}, splits).front();
}

}  // namespace made_up
