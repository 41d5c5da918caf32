#include "bothways/report/budget.hpp"

#include "bothways/report/number.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"

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

}  // namespace bothways
