// docs/method.md, "Uncertainty budget": each level's part in a figure.
#include "bothways/pair/uncertainty_components.hpp"

#include "bothways/numeric/square.hpp"

#include <cmath>
#include <cstddef>
#include <map>
#include <utility>
#include <vector>

namespace bothways {

namespace {

using numeric::square;

/// d mean / d value of every outcome of the nest, in its order. Linear, so unit values tell it; past so many
/// outcomes each counts alike within its side.
constexpr std::size_t most_solved = 60;

std::vector<double> weights_of(const Nest& nest, const Scatters& scatter, const Contrast& contrast) {
  std::vector<double> weights;
  std::vector<double> count(static_cast<std::size_t>(nest.sides), 0.0);
  for (const Outcome& o : nest.outcomes) {
    count[static_cast<std::size_t>(o.side)] += 1.0;
  }
  Nest unit = nest;
  unit.centre = 0.0;
  for (Outcome& o : unit.outcomes) {
    o.value = 0.0;
  }
  for (Outcome& o : unit.outcomes) {
    if (unit.outcomes.size() > most_solved) {
      const auto side = static_cast<std::size_t>(o.side);
      weights.push_back(contrast[side] / count[side]);
      continue;
    }
    o.value = 1.0;
    const auto mean = solve(unit, scatter).mean;
    weights.push_back(contrast[0] * mean[0] + contrast[1] * mean[1]);
    o.value = 0.0;
  }
  return weights;
}

/// Root sum of squares of `sd` times the summed weights of each group.
template <class Key, class Sd>
double grouped(const Nest& nest, const std::vector<double>& weights, const Key& key, const Sd& sd) {
  std::map<decltype(key(nest.outcomes.front())), double> sums;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    sums[key(nest.outcomes[i])] += weights[i] * sd(nest.outcomes[i]);
  }
  double total = 0.0;
  for (const auto& [group, sum] : sums) {
    total += square(sum);
  }
  return std::sqrt(total);
}

}  // namespace

UncertaintyComponents components_of(std::span<const Outcome> outcomes, const Scatters& scatter, int sides,
                                    const Contrast& contrast) {
  const Nest nest = nest_of(outcomes, sides);
  const std::vector<double> weights = weights_of(nest, scatter, contrast);
  UncertaintyComponents components;
  double own = 0.0;
  double pair = 0.0;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    own += square(weights[i] * nest.outcomes[i].own_sd);
    pair += square(weights[i] * scatter.pair_s);
  }
  components.own = std::sqrt(own);
  components.pair = std::sqrt(pair);
  const auto day = [](const Outcome& o) { return o.day; };
  components.log = grouped(
      nest, weights, [](const Outcome& o) { return o.log; }, [](const Outcome& o) { return o.log_sd; });
  components.block = grouped(
      nest, weights, [](const Outcome& o) { return o.block; },
      [&](const Outcome& /*o*/) { return scatter.block_s; });
  components.day = grouped(nest, weights, day, [&](const Outcome& /*o*/) { return scatter.day_s; });
  components.visit = std::hypot(grouped(nest, weights, day, [](const Outcome& o) { return o.day_sd; }),
                                grouped(
                                    nest, weights, [](const Outcome& o) { return std::pair(o.day, o.side); },
                                    [](const Outcome& o) { return o.visit_sd; }));
  return components;
}

}  // namespace bothways
