#include "bothways/report/page/splits.hpp"

#include "bothways/core/rounding.hpp"
#include "bothways/core/units.hpp"
#include "bothways/pair/compare.hpp"
#include "bothways/pair/match.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/result.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace bothways {

namespace {

template <typename Row>
std::optional<Row> named(const std::vector<Row>& rows, const std::string& name) {
  const auto found =
      std::find_if(rows.begin(), rows.end(), [&](const Row& row) { return row.spec.name == name; });
  return found == rows.end() ? std::nullopt : std::optional<Row>(*found);
}

bool is_among(const std::vector<SplitSpec>& splits, const SplitSpec& spec) {
  return std::any_of(splits.begin(), splits.end(), [&](const SplitSpec& s) { return s.name == spec.name; });
}

SideSplit side_split(const std::vector<Ride>& rides, const Pairs& pairs, const std::vector<Overall>& overall,
                     const std::string& name) {
  SideSplit out{.overall = named(overall, name)};
  for (const Pair& pair : pairs.made) {
    out.pairs.push_back(named(pair.splits, name));
  }
  for (const Ride& ride : rides) {
    for (const Run& run : ride.runs.accepted) {
      out.runs.push_back(named(run.splits, name));
    }
  }
  return out;
}

PageSplit split_of(const std::vector<Side>& sides, const std::vector<std::vector<Overall>>& overall,
                   const std::vector<Comparison>& comparisons, const SplitSpec& spec) {
  PageSplit out{.spec = spec};
  for (std::size_t i = 0; i < sides.size(); ++i) {
    out.sides.push_back(side_split(sides[i].rides, sides[i].pairs, overall[i], spec.name));
  }
  for (const Comparison& comparison : comparisons) {
    out.differences.push_back(named(comparison.differences, spec.name));
  }
  return out;
}

bool is_mark(const Mark& mark, double v_mps) {
  const auto* speed = std::get_if<Speed>(&mark);
  return speed != nullptr && std::abs(speed->mps() - v_mps) < 1e-6;
}

/// The edges that a run would have if `spec` were the only split asked: every whole m/s, and its marks.
std::vector<SpeedEdge> edges_for(const Run& run, const SplitSpec& spec) {
  std::vector<SpeedEdge> kept;
  for (const SpeedEdge& edge : run.more_edges) {
    const bool whole = std::abs(edge.v_mps - std::round(edge.v_mps)) < 1e-6;
    if (kept.empty() || whole || is_mark(spec.from, edge.v_mps) || is_mark(spec.to, edge.v_mps)) {
      kept.push_back(edge);
    }
  }
  return kept;
}

/// What of a side is needed to average another split: no curves, no traces.
Side thin_copy(const Side& side) {
  Side copy{.name = side.name};
  for (const Ride& ride : side.rides) {
    Ride thin{.path = ride.path, .dated = ride.dated, .first = ride.first, .last = ride.last};
    thin.conditions = ride.conditions;
    for (const Run& run : ride.runs.accepted) {
      Run light;
      light.id = run.id;
      light.movement = run.movement;
      light.clock_start = run.clock_start;
      light.start = run.start;
      light.end = run.end;
      light.heading_deg = run.heading_deg;
      thin.runs.accepted.push_back(std::move(light));
    }
    copy.rides.push_back(std::move(thin));
  }
  copy.pairs = {.made = side.pairs.made, .winds = side.pairs.winds};
  return copy;
}

/// Makes a thin copy tell of this split alone, by this clock.
std::vector<Overall> take_split(const Side& side, const SplitSpec& spec, Clock clock, Side& thin) {
  for (std::size_t r = 0; r < side.rides.size(); ++r) {
    const auto& runs = side.rides[r].runs.accepted;
    for (std::size_t k = 0; k < runs.size(); ++k) {
      Run& light = thin.rides[r].runs.accepted[k];
      light.splits.clear();
      light.edges.clear();
      if (const auto split = named(runs[k].more_splits, spec.name)) {
        light.splits.push_back(*split);
        light.edges = edges_for(runs[k], spec);
      }
    }
  }
  Averaged again = average_pairs(thin.rides, std::move(thin.pairs), {spec}, {.only = clock});
  thin.pairs = std::move(again.pairs);
  return std::move(again.overall);
}

bool any_run_has(const std::vector<Side>& sides, const std::string& name) {
  return std::any_of(sides.begin(), sides.end(), [&](const Side& side) {
    return std::any_of(side.rides.begin(), side.rides.end(), [&](const Ride& ride) {
      return std::any_of(ride.runs.accepted.begin(), ride.runs.accepted.end(),
                         [&](const Run& run) { return named(run.more_splits, name).has_value(); });
    });
  });
}

/// Every split of more_splits that a run reaches and nobody asked for.
std::vector<SplitSpec> offered(const Page& page) {
  std::vector<SplitSpec> specs;
  for (const SplitSpec& spec : splits_to_offer(page.compared.splits, page.compared.metric)) {
    const bool asked = is_among(page.compared.splits, spec);
    if (!asked && any_run_has(page.compared.sides, spec.name)) {
      specs.push_back(spec);
    }
  }
  return specs;
}

template <typename Row>
void add_times(const std::vector<std::optional<Row>>& rows, Clock clock, std::vector<Estimate>& column) {
  for (const auto& row : rows) {
    if (row) {
      column.push_back(chosen(*row, clock));
    }
  }
}

template <typename Row>
int decimals_of_column(const std::vector<std::optional<Row>>& rows, Clock clock) {
  std::vector<Estimate> column;
  add_times(rows, clock, column);
  return common_decimals(column);
}

/// Fills the decimals of all: they go by what stands in a column, and of the splits asked in one table.
void choose_decimals(std::vector<PageSplit>& splits, Clock clock) {
  for (PageSplit& split : splits) {
    std::vector<Estimate> overall;
    std::vector<Estimate> differences;
    for (const PageSplit& other : splits) {
      if (&other != &split && !(split.asked && other.asked)) {
        continue;
      }
      for (const SideSplit& of : other.sides) {
        add_times(std::vector{of.overall}, clock, overall);
      }
      for (const auto& row : other.differences) {
        if (row) {
          differences.push_back(row->difference);
        }
      }
    }
    for (SideSplit& side : split.sides) {
      side.decimals = {common_decimals(overall, differences), decimals_of_column(side.pairs, clock),
                       decimals_of_column(side.runs, clock)};
    }
  }
}

std::string number(double value) {
  return fixed(value, 0);
}

/// Round speeds, and those of the splits asked, in the unit of the page, rising.
std::vector<double> marks_to_offer(const std::vector<SplitSpec>& asked, bool metric) {
  const double factor = metric ? mps_per_kmh : mps_per_mph;
  constexpr int fine = 5;
  std::vector<double> marks;
  for (int v = fine; v <= (metric ? 250 : 150); v += v < 60 ? fine : 2 * fine) {
    marks.push_back(v);
  }
  for (const SplitSpec& split : asked) {
    for (const Mark* mark : {&split.from, &split.to}) {
      const auto* speed = std::get_if<Speed>(mark);
      const double shown = speed != nullptr ? speed->mps() / factor : 0.0;
      if (shown > 0.5 && std::abs(shown - std::round(shown)) < 1e-6) {
        marks.push_back(std::round(shown));
      }
    }
  }
  std::sort(marks.begin(), marks.end());
  marks.erase(std::unique(marks.begin(), marks.end()), marks.end());
  return marks;
}

}  // namespace

std::vector<SplitSpec> splits_to_offer(const std::vector<SplitSpec>& asked, bool metric) {
  const std::string unit = metric ? " km/h" : " mph";
  const std::vector<double> marks = marks_to_offer(asked, metric);
  std::string list = metric ? "20 m, 50 m, 100 m, 200 m, 400 m" : "60 ft, 100 ft, 330 ft, 1/8 mi, 1/4 mi";
  for (std::size_t i = 0; i < marks.size(); ++i) {
    list += ", 0-" + number(marks[i]) + unit;
    for (std::size_t k = i + 1; k < marks.size(); ++k) {
      list += ", " + number(marks[i]) + "-" + number(marks[k]) + unit;
    }
  }
  return parse_splits(list);
}

std::vector<PageSplit> page_splits(const Page& page) {
  const Compared& compared = page.compared;
  std::vector<PageSplit> out;
  for (const SplitSpec& spec : compared.splits) {
    out.push_back(split_of(compared.sides, compared.overall, compared.comparisons, spec));
  }
  std::vector<Side> thin;
  for (const Side& side : compared.sides) {
    thin.push_back(thin_copy(side));
  }
  for (const SplitSpec& spec : offered(page)) {
    std::vector<std::vector<Overall>> overall;
    for (std::size_t i = 0; i < thin.size(); ++i) {
      overall.push_back(take_split(compared.sides[i], spec, compared.clock, thin[i]));
    }
    const auto comparisons =
        thin.size() > 1 ? compare(thin, {spec}, {.clock = compared.clock, .more = More::none, .times = false})
                        : std::vector<Comparison>{};
    out.push_back(split_of(thin, overall, comparisons, spec));
    out.back().asked = false;
  }
  choose_decimals(out, compared.clock);
  return out;
}

}  // namespace bothways
