#include "bothways/pair/compare.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/figures.hpp"
#include "bothways/pair/match.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <set>

namespace bothways {

namespace {

/// Quickest single run of the pairs that have this split: a run without a partner may be from another road.
void take_best(const std::vector<Ride>& rides, const Pairs& pairs, Overall& row) {
  row.best_one_way_s = row.best_one_way_movement_s = std::numeric_limits<double>::infinity();
  const auto is_row = [&](const auto& split) { return split.spec.name == row.spec.name; };
  for (const Pair& pair : pairs.made) {
    if (std::none_of(pair.splits.begin(), pair.splits.end(), is_row)) {
      continue;
    }
    for (const bool first : {true, false}) {
      const auto& splits = run_of_pair(rides, pair, first).splits;
      const auto split = std::find_if(splits.begin(), splits.end(), is_row);
      if (split != splits.end()) {
        row.best_one_way_s = std::min(row.best_one_way_s, split->rollout.value);
        row.best_one_way_movement_s = std::min(row.best_one_way_movement_s, split->movement.value);
      }
    }
  }
}

/// sd between the results of one day, of several days pooled.
double scatter_seen(const std::vector<Outcome>& outcomes) {
  std::map<int, std::vector<double>> days;
  for (const Outcome& outcome : outcomes) {
    days[outcome.day].push_back(outcome.value);
  }
  double squares = 0.0;
  for (const auto& [day, values] : days) {
    double mean = 0.0;
    for (const double value : values) {
      mean += value / static_cast<double>(values.size());
    }
    for (const double value : values) {
      squares += (value - mean) * (value - mean);
    }
  }
  const auto freedom = static_cast<double>(outcomes.size() - days.size());
  return freedom > 0.0 ? std::sqrt(squares / freedom) : 0.0;
}

/// Mean of what the wind's square made the pairs longer, s.
double wind_of(const Pairs& pairs, const SplitSpec& spec) {
  double sum = 0.0;
  double n = 0.0;
  for (const Pair& pair : pairs.made) {
    for (const TwoWay& split : pair.splits) {
      if (split.spec.name == spec.name) {
        sum += split.wind_s;
        n += 1.0;
      }
    }
  }
  return n > 0.0 ? sum / n : 0.0;
}

}  // namespace

std::vector<Overall> overall(const std::vector<Ride>& rides, const Pairs& pairs,
                             const std::vector<SplitSpec>& splits) {
  const std::vector<int> days = days_of_pairs(rides, pairs, day_pause_s);
  const LocalPlane plane = plane_of(rides, pairs.made);
  std::vector<Overall> rows;
  for (const SplitSpec& spec : splits) {
    const auto rollout = results_of(rides, pairs.made, days, spec, Clock::rollout, 0, plane);
    if (rollout.outcomes.empty()) {
      continue;
    }
    const Figure figure = figure_of(rollout);
    // Between two speeds there is no start, so both clocks tell the same.
    const Figure movement =
        spec.from_rest() ? figure_of(results_of(rides, pairs.made, days, spec, Clock::movement, 0, plane))
                         : figure;
    std::set<int> ridden_on;
    for (const Outcome& outcome : rollout.outcomes) {
      ridden_on.insert(outcome.day);
    }
    const double wind_s = wind_of(pairs, spec);
    Overall row{.spec = spec,
                .pairs = static_cast<int>(rollout.outcomes.size()),
                .days = static_cast<int>(ridden_on.size()),
                .rollout = figure.estimate,
                .movement = movement.estimate,
                .as_ridden_s = figure.estimate.value + wind_s,
                .as_ridden_movement_s = movement.estimate.value + wind_s,
                .budget = figure.budget,
                .budget_movement = movement.budget,
                .scatter_s = scatter_seen(rollout.outcomes)};
    take_best(rides, pairs, row);
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace bothways
