#include "truth/pair_scorer.hpp"

#include "bothways/pair/match.hpp"
#include "support/simulate/two_way.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <variant>

namespace bothways::truth {

namespace {

constexpr std::size_t together = 3;  // pairs: six runs

/// The overall line of some pairs of a ride.
std::optional<Estimate> overall_of(const Ride& ride, std::vector<Pair> pairs, const SplitSpec& spec) {
  const std::vector<Overall> found = overall({ride}, {std::move(pairs), {}}, {spec});
  return found.empty() ? std::nullopt : std::optional(found.front().rollout);
}

}  // namespace

PairScorer::PairScorer(const std::vector<SplitSpec>& splits, const std::optional<sim::Truth>& flat,
                       CellResult& result) {
  for (const SplitSpec& spec : splits) {
    if (!std::holds_alternative<Speed>(spec.to)) {
      continue;
    }
    rows_.push_back({spec, result.rows.size(), std::nullopt});
    result.rows.push_back({spec.name, "two-way", {}, {}, {}});
    result.rows.push_back({spec.name, "together", {}, {}, {}});
    if (flat) {
      rows_.back().flat_s = sim::two_way_truth_s(*flat, flat->starts.at(0), *flat, flat->starts.at(1), spec);
      for (const char* clock : {"flat", "overall", "one-pair"}) {
        result.rows.push_back({spec.name, clock, {}, {}, {}});
      }
    }
  }
}

void PairScorer::add(const sim::Truth& truth, const Ride& ride, const StartOfRun& starts,
                     CellResult& result) const {
  const Pairs pairs = pair_runs({ride});
  result.pairs += pairs.made.size();
  for (const Rows& rows : rows_) {
    add_split(rows, truth, ride, pairs, starts, result);
    if (rows.flat_s) {
      if (const auto mean = overall_of(ride, pairs.made, rows.spec)) {
        result.rows[rows.first + 3].found.add(*mean, *rows.flat_s);
      }
    }
  }
}

void PairScorer::add_split(const Rows& rows, const sim::Truth& truth, const Ride& ride, const Pairs& pairs,
                           const StartOfRun& starts, CellResult& result) const {
  std::vector<Pair> some;
  double true_sum_s = 0.0;
  for (const Pair& pair : pairs.made) {
    const auto one = starts.find(pair.first_run);
    const auto other = starts.find(pair.second_run);
    const auto split = std::find_if(pair.splits.begin(), pair.splits.end(),
                                    [&](const TwoWay& t) { return t.spec.name == rows.spec.name; });
    if (one == starts.end() || other == starts.end() || split == pair.splits.end()) {
      continue;
    }
    const double true_s =
        sim::two_way_truth_s(truth, truth.starts[one->second], truth, truth.starts[other->second], rows.spec);
    result.rows[rows.first].found.add(split->rollout, true_s);
    result.rows[rows.first].naive.add(split->plain_mean_s, true_s);
    some.push_back(pair);
    true_sum_s += true_s;
    if (some.size() == together) {
      if (const auto mean = overall_of(ride, std::exchange(some, {}), rows.spec)) {
        result.rows[rows.first + 1].found.add(*mean, true_sum_s / together);
      }
      true_sum_s = 0.0;
    }
    if (rows.flat_s) {
      result.rows[rows.first + 2].found.add(split->rollout, *rows.flat_s);
      result.rows[rows.first + 2].naive.add(split->plain_mean_s, *rows.flat_s);
      if (const auto alone = overall_of(ride, {pair}, rows.spec)) {
        result.rows[rows.first + 4].found.add(*alone, *rows.flat_s);
      }
    }
  }
}

}  // namespace bothways::truth
