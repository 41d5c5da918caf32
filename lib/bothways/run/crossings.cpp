// docs/method.md, section 5: eq. (5.3) in duration_variance.
#include "bothways/run/crossings.hpp"

#include <algorithm>
#include <cstddef>
#include <variant>

namespace bothways {

namespace {

std::pair<int, double> key_of(const Level& level) {
  return {level.row, level.value};
}

}  // namespace

Level level_of(const Mark& mark) {
  if (const auto* speed = std::get_if<Speed>(&mark)) {
    return {numeric::i_v, speed->mps()};
  }
  return {numeric::i_s, std::get<Length>(mark).m()};
}

Crossings::Crossings(const SmoothedPath& path, const std::vector<SplitSpec>& splits, double end_s)
    : path_(path) {
  const std::vector<Rise> of_speed = rises_until(path, numeric::i_v, end_s);
  const std::vector<Rise> of_travel = rises_until(path, numeric::i_s, end_s);
  const auto add = [&](const Mark& mark) {
    const Level level = level_of(mark);
    const auto [place, is_new] = by_level_.try_emplace(key_of(level));
    if (is_new) {
      place->second = likely_crossings(path, level.row == numeric::i_v ? of_speed : of_travel, level, end_s);
      for (const LikelyCrossing& crossing : place->second) {
        all_.emplace_back(crossing.at);
      }
    }
  };
  for (const SplitSpec& split : splits) {
    add(split.to);
    if (!split.from_rest()) {
      add(split.from);
    }
  }
  std::stable_sort(all_.begin(), all_.end(),
                   [](const auto& a, const auto& b) { return a->index < b->index; });
}

const std::vector<LikelyCrossing>& Crossings::of(const Mark& mark) const {
  return by_level_.at(key_of(level_of(mark)));
}

double Crossings::duration_variance(const Crossing& from, const Crossing& to) {
  const auto [row, is_new] = covariances_.try_emplace({from.row, from.t_s});
  if (is_new) {
    row->second = crossing_covariances(path_, from, all_);
  }
  const auto at = std::find_if(all_.begin(), all_.end(), [&](const auto& other) {
    return other->index == to.index && other->row == to.row && other->t_s == to.t_s &&
           other->slope == to.slope;
  });
  const double cov = row->second[static_cast<std::size_t>(at - all_.begin())];
  return std::max(0.0, crossing_variance(path_, to) + crossing_variance(path_, from) - 2.0 * cov);
}

}  // namespace bothways
