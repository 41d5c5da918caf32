#include "bothways/pair/compare.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/levels.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/pair/outcomes.hpp"

#include <algorithm>
#include <limits>

namespace bothways {

namespace {

double allowance_of(const SplitSpec& spec, const Leveled& side) {
  return side.pairs == 1 ? allowance_share(spec, side.value) * side.value : 0.0;
}

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

}  // namespace

std::vector<Overall> overall(const std::vector<Ride>& rides, const Pairs& pairs,
                             const std::vector<SplitSpec>& splits) {
  const std::vector<int> days = days_of_pairs(rides, pairs, day_pause_s);
  std::vector<Overall> rows;
  for (const SplitSpec& spec : splits) {
    const auto outcomes = outcomes_of(pairs.made, days, spec, Clock::rollout);
    if (outcomes.empty()) {
      continue;
    }
    const Leveled rollout = leveled(outcomes);
    const Leveled movement = leveled(outcomes_of(pairs.made, days, spec, Clock::movement));
    Overall row{.spec = spec, .pairs = rollout.pairs, .days = rollout.days};
    row.allowance_s = allowance_of(spec, rollout);
    row.allowance_movement_s = allowance_of(spec, movement);
    row.rollout = figure_of(rollout, row.allowance_s);
    row.movement = figure_of(movement, row.allowance_movement_s);
    row.scatter_s = rollout.scatter_seen;
    take_best(rides, pairs, row);
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace bothways
