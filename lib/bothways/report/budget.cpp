#include "bothways/report/budget.hpp"

#include "bothways/report/number.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <ostream>

namespace bothways {

namespace {

/// In the order of budget_rows().
constexpr std::array component_words{"receiver, each run",
                                     "receiver and launch, shared",
                                     "starts and gusts, each pair",
                                     "hour, tank, warmth",
                                     "day",
                                     "slope along the road",
                                     "square of the wind"};

/// Whether no day's wind is told, and of some ride neither kind of vehicle nor mass is known.
bool may_tell_wind_by_drag(const Result& result) {
  return std::none_of(result.pairs.winds.begin(), result.pairs.winds.end(),
                      [](const DayWind& wind) { return wind.told; }) &&
         std::any_of(result.rides.begin(), result.rides.end(), [](const Ride& ride) {
           return !ride.conditions || !(ride.conditions->kind || ride.conditions->total_mass_kg);
         });
}

}  // namespace

void write_budget(std::ostream& out, const std::string& heading,
                  const std::vector<std::pair<std::string, Budget>>& columns, const SummaryOptions& options) {
  if (columns.empty()) {
    return;
  }
  Table table{"budget", {{"component", "", ColumnKind::text, "one sd, s"}}, {}};
  for (const auto& [name, budget] : columns) {
    table.columns.push_back({name, "s", ColumnKind::number, name});
  }
  for (std::size_t i = 0; i < component_words.size(); ++i) {
    std::vector<Cell> row{std::string(component_words.at(i))};
    for (const auto& [name, budget] : columns) {
      row.emplace_back(Number{budget_rows(budget).at(i).sd_s, 3});
    }
    table.rows.push_back(std::move(row));
  }
  write_heading(out, heading, options);
  write_text(out, table, {.width = options.width});
}

void explain_budget(std::ostream& out, const Result& result, const SummaryOptions& options) {
  std::vector<std::pair<std::string, Budget>> columns;
  for (const Overall& row : result.overall) {
    columns.emplace_back(row.spec.name, result.clock == Clock::rollout ? row.budget : row.budget_movement);
  }
  write_budget(out, "What the ± of the result is made of", columns, options);
  if (!columns.empty() && may_tell_wind_by_drag(result)) {
    out << wrapped(
               "The runs do not tell the wind. They may where conditions.ini says what was ridden, as kind = "
               "scooter, or its mass with rider, as total_mass = 200 kg: wind moves a light vehicle more.",
               options.width)
        << '\n';
  }
}

}  // namespace bothways
