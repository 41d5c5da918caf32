#include "bothways/pair/combine.hpp"
#include "bothways/pair/match.hpp"

#include <algorithm>
#include <limits>

namespace bothways {

namespace {

/// The two-way results of one split, pair by pair.
struct Results {
  std::vector<double> rollout;
  std::vector<double> rollout_sd;
  std::vector<double> movement;
  std::vector<double> movement_sd;
};

Results results_of(const Pairs& pairs, const std::string& name) {
  Results results;
  for (const Pair& pair : pairs.made) {
    for (const TwoWay& split : pair.splits) {
      if (split.name == name) {
        results.rollout.push_back(split.rollout.value);
        results.rollout_sd.push_back(split.rollout.sd);
        results.movement.push_back(split.movement.value);
        results.movement_sd.push_back(split.movement.sd);
      }
    }
  }
  return results;
}

/// Quickest single run of any direction, paired or not.
void take_best(const std::vector<Ride>& rides, Overall& row) {
  row.best_one_way_s = row.best_one_way_movement_s = std::numeric_limits<double>::infinity();
  for (const Ride& ride : rides) {
    for (const Run& run : ride.runs.accepted) {
      for (const Split& split : run.splits) {
        if (split.name == row.name) {
          row.best_one_way_s = std::min(row.best_one_way_s, split.rollout.value);
          row.best_one_way_movement_s = std::min(row.best_one_way_movement_s, split.movement.value);
        }
      }
    }
  }
}

}  // namespace

std::vector<Overall> overall(const std::vector<Ride>& rides, const Pairs& pairs,
                             const std::vector<std::string>& names) {
  std::vector<Overall> rows;
  for (const std::string& name : names) {
    const Results results = results_of(pairs, name);
    if (results.rollout.empty()) {
      continue;
    }
    const MeanOf rollout = mean_of(results.rollout, results.rollout_sd);
    Overall row{.name = name, .pairs = static_cast<int>(results.rollout.size())};
    row.rollout = rollout.estimate;
    row.scatter_s = rollout.scatter;
    row.movement = mean_of(results.movement, results.movement_sd).estimate;
    take_best(rides, row);
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace bothways
