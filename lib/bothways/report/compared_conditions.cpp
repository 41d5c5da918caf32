#include "bothways/report/compared_conditions.hpp"

#include "bothways/report/conditions.hpp"

#include <algorithm>

namespace bothways {

namespace {

/// Without the name of the file.
Conditions without_file(Conditions conditions) {
  conditions.file.clear();
  return conditions;
}

bool has_runs(const Ride& ride) {
  return !ride.runs.accepted.empty();
}

bool any_conditions(const Side& side) {
  return std::any_of(side.rides.begin(), side.rides.end(),
                     [](const Ride& ride) { return has_runs(ride) && ride.conditions.has_value(); });
}

}  // namespace

std::optional<Conditions> conditions_of(const Side& side) {
  std::optional<Conditions> common;
  for (const Ride& ride : side.rides) {
    if (!has_runs(ride)) {
      continue;
    }
    if (!ride.conditions || (common && condition_record(without_file(*common)) !=
                                           condition_record(without_file(*ride.conditions)))) {
      return std::nullopt;
    }
    common = ride.conditions;
  }
  return common;
}

std::vector<ExpectedOf> expected_of(const Compared& compared) {
  std::vector<ExpectedOf> all;
  const auto before = compared.sides.empty() ? std::nullopt : conditions_of(compared.sides.front());
  for (std::size_t i = 0; before && i < compared.comparisons.size(); ++i) {
    const auto after = conditions_of(compared.sides.at(i + 1));
    const Difference* main = main_difference(compared.comparisons[i]);
    if (after && main != nullptr && main->before.value > 0.0) {
      const ExpectedEffect effect = expected_effect(*before, *after, main->before.value, compared.metric);
      if (!effect.parts.empty()) {
        all.push_back({compared.comparisons[i].after, main->spec.name, effect.parts});
      }
    }
  }
  return all;
}

bool has_mixed_conditions(const Compared& compared) {
  return std::any_of(compared.sides.begin(), compared.sides.end(),
                     [](const Side& side) { return any_conditions(side) && !conditions_of(side); });
}

}  // namespace bothways
