#include "bothways/pair/compare.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/pair/overall_rows.hpp"

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

Overall row_of(const std::vector<Ride>& rides, const Pairs& pairs, const SplitPosteriors& posteriors) {
  const auto& [spec, rollout, movement] = posteriors;
  const SideResults& results = (rollout ? rollout : movement)->results;
  std::set<int> ridden_on;
  for (const Outcome& outcome : results.outcomes) {
    ridden_on.insert(outcome.day);
  }
  Overall row{.spec = spec,
              .pairs = static_cast<int>(results.outcomes.size()),
              .days = static_cast<int>(ridden_on.size()),
              .scatter_s = scatter_seen(results.outcomes)};
  const double wind_s = wind_of(pairs, spec);
  const double slope_s2 = slope_variance_s2(results.slope);  // no clock changes it
  if (rollout) {
    const Figure figure = figure_of(*rollout, slope_s2);
    row.rollout = figure.estimate;
    row.as_ridden_s = figure.estimate.value + wind_s;
    row.budget = figure.budget;
  }
  if (movement) {
    const Figure figure = figure_of(*movement, slope_s2);
    row.movement = figure.estimate;
    row.as_ridden_movement_s = figure.estimate.value + wind_s;
    row.budget_movement = figure.budget;
  } else if (!spec.from_rest()) {
    row.movement = row.rollout;
    row.as_ridden_movement_s = row.as_ridden_s;
    row.budget_movement = row.budget;
  }
  take_best(rides, pairs, row);
  return row;
}

}  // namespace

std::vector<Overall> overall_rows(const std::vector<Ride>& rides, const Pairs& pairs,
                                  const std::vector<SplitPosteriors>& posteriors,
                                  const std::vector<SplitSpec>& splits) {
  std::vector<Overall> rows;
  for (const SplitSpec& spec : splits) {
    const auto found = std::find_if(posteriors.begin(), posteriors.end(),
                                    [&](const SplitPosteriors& f) { return f.spec.name == spec.name; });
    if (found != posteriors.end()) {
      rows.push_back(row_of(rides, pairs, *found));
    }
  }
  return rows;
}

std::vector<Overall> overall(const std::vector<Ride>& rides, const Pairs& pairs,
                             const std::vector<SplitSpec>& splits) {
  const std::vector<int> days = days_of_pairs(rides, pairs, day_pause_s);
  return overall_rows(rides, pairs, posteriors_of(rides, pairs.made, days, splits), splits);
}

}  // namespace bothways
