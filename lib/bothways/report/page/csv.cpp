#include "bothways/report/csv.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/page/parts.hpp"
#include "bothways/report/page/tables.hpp"

#include <sstream>
#include <utility>

namespace bothways {

namespace {

struct PageRows {
  Table table{"page",
              {{"side", ""},
               {"what", ""},
               {"number", "", ColumnKind::number},
               {"direction", ""},
               {"split", ""},
               {"", "s", ColumnKind::estimate}},
              {}};

  void add(const std::string& side, const char* what, int number, const std::string& way,
           const std::string& split, const Estimate& e) {
    if (is_printable(e)) {
      table.rows.push_back({escaped(side), std::string(what),
                            number > 0 ? Cell(Number{static_cast<double>(number), 0}) : Cell(), way, split,
                            e});
    }
  }
};

void add_side(const PageWork& work, const PageSplit& split, std::size_t i, PageRows& rows) {
  const Side& side = work.page.compared.sides[i];
  const Clock clock = work.page.compared.clock;
  const SideSplit& of = split.sides[i];
  std::size_t k = 0;
  for (const Ride& ride : side.rides) {
    for (const Run& run : ride.runs.accepted) {
      if (const auto& time = of.runs[k++]) {
        rows.add(side.name, "run", run.id, way_of(work.page.compared.sides, run), split.spec.name,
                 chosen(*time, clock));
      }
    }
  }
  for (std::size_t p = 0; p < of.pairs.size(); ++p) {
    if (of.pairs[p]) {
      rows.add(side.name, "pair", side.pairs.made[p].id, "", split.spec.name, chosen(*of.pairs[p], clock));
    }
  }
  if (of.overall) {
    rows.add(side.name, "all pairs", 0, "", split.spec.name, chosen(*of.overall, clock));
  }
}

}  // namespace

std::string page_csv(const PageWork& work) {
  PageRows rows;
  for (const PageSplit& split : work.splits) {
    for (std::size_t i = 0; split.asked && i < split.sides.size(); ++i) {
      add_side(work, split, i, rows);
    }
    for (std::size_t c = 0; split.asked && c < split.differences.size(); ++c) {
      if (split.differences[c]) {
        rows.add(work.page.compared.comparisons[c].after, "difference", 0, "", split.spec.name,
                 split.differences[c]->difference);
      }
    }
  }
  std::ostringstream out;
  write_csv(out, rows.table);
  return out.str();
}

}  // namespace bothways
