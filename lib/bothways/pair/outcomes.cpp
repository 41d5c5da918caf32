#include "bothways/pair/outcomes.hpp"

#include <algorithm>
#include <limits>

namespace bothways {

namespace {

constexpr double shared_share = 0.65;  // of the sd, by simulation (docs/method.md)

const Estimate& time_of(const TwoWay& split, Clock clock) {
  return clock == Clock::rollout ? split.rollout : split.movement;
}

/// What the launch brings to each split from rest: it cannot be more than the shortest of them has.
double launch_sd(const Pair& pair, Clock clock) {
  double least = std::numeric_limits<double>::infinity();
  for (const TwoWay& split : pair.splits) {
    if (split.spec.from_rest()) {
      least = std::min(least, time_of(split, clock).sd);
    }
  }
  return least;
}

}  // namespace

std::vector<Outcome> outcomes_of(std::span<const Pair> pairs, std::span<const int> days,
                                 const SplitSpec& spec, Clock clock) {
  const bool from_rest = spec.from_rest();
  std::vector<Outcome> outcomes;
  for (std::size_t k = 0; k < pairs.size(); ++k) {
    for (const TwoWay& split : pairs[k].splits) {
      if (split.spec.name == spec.name) {
        const Estimate& time = time_of(split, clock);
        const double shared = from_rest ? shared_share * launch_sd(pairs[k], clock) : 0.0;
        outcomes.push_back({time.value, time.sd, days[k], shared, pairs[k].ride});
      }
    }
  }
  return outcomes;
}

}  // namespace bothways
