// The tables of splits, as HTML.
#include "bothways/report/number.hpp"
#include "bothways/report/page/html.hpp"
#include "bothways/report/page/parts.hpp"
#include "bothways/report/words.hpp"

namespace bothways {

namespace {

using Texts = std::vector<std::string>;

template <typename Row>
std::string cell_of(const std::optional<Row>& row, Clock clock, int decimals) {
  return row && is_printable(chosen(*row, clock)) ? plus_minus(chosen(*row, clock), decimals) : "";
}

Texts columns_of_splits(const PageWork& work) {
  Texts heads;
  for (const PageSplit& split : work.splits) {
    if (split.asked) {
      heads.push_back(split.spec.name);
    }
  }
  return heads;
}

std::string ride_table(const PageWork& work) {
  const Clock clock = work.page.compared.clock;
  std::vector<Texts> rows;
  for (const PageSplit& split : work.splits) {
    const auto& overall = split.sides.front().overall;
    if (split.asked && overall) {
      const int decimals = split.sides.front().decimals.overall;
      rows.push_back({split.spec.name, cell_of(overall, clock, decimals), std::to_string(overall->pairs),
                      fixed(rounded(best_one_way_s(*overall, clock), machine_decimals), decimals)});
    }
  }
  return rows.empty() ? ""
                      : html_table("Both ways, seconds; ± is the 95 % interval",
                                   {"split", "both ways", "pairs", "best one way"}, rows, "figures");
}

std::string comparison_table(const PageWork& work, std::size_t c) {
  const Comparison& comparison = work.page.compared.comparisons[c];
  const int decimals = decimals_of_sides(comparison);
  std::vector<Texts> rows;
  for (const Difference& row : comparison.differences) {
    if (is_printable(row.before) && is_printable(row.after) && is_printable(row.difference)) {
      rows.push_back({row.spec.name, plus_minus(row.before, decimals), plus_minus(row.after, decimals),
                      signed_plus_minus(row.difference),
                      std::to_string(row.pairs_before) + " and " + std::to_string(row.pairs_after)});
    }
  }
  return html_table("Both ways, seconds; ± is the 95 % interval; a difference below zero is quicker",
                    {"split", comparison.before, comparison.after, "difference", "pairs"}, rows, "figures");
}

/// The day of a run; with a map, where nothing is kept back, its time of day too.
std::string run_day(const Page& page, const Ride& ride, const Run& run) {
  const std::string day = ride.dated ? date_words(run.movement) : "";
  return page.with_map ? day + (day.empty() ? "" : " ") + time_of_day(run.movement) + " UTC" : day;
}

std::string runs_table_of(const PageWork& work, std::size_t i) {
  const Side& side = work.page.compared.sides[i];
  const Clock clock = work.page.compared.clock;
  Texts heads{"run", work.page.with_map ? "start" : "day", "direction", "pair"};
  const Texts splits = columns_of_splits(work);
  heads.insert(heads.end(), splits.begin(), splits.end());
  std::vector<Texts> rows;
  for (const Ride& ride : side.rides) {
    for (const Run& run : ride.runs.accepted) {
      const int pair = pair_of(work.results[i], run.id);
      Texts row{std::to_string(run.id), run_day(work.page, ride, run), direction_words(heading_deg(run)),
                pair > 0 ? std::to_string(pair) : "none"};
      for (const PageSplit& split : work.splits) {
        if (split.asked) {
          row.push_back(cell_of(split.sides[i].runs[rows.size()], clock, split.sides[i].decimals.runs));
        }
      }
      rows.push_back(std::move(row));
    }
  }
  return html_table(
      side.name.empty() ? "Runs, one way each, seconds" : side.name + ": runs, one way each, seconds", heads,
      rows, "figures runs");
}

std::string pairs_table_of(const PageWork& work, std::size_t i) {
  const Side& side = work.page.compared.sides[i];
  Texts heads{"pair", "runs"};
  const Texts splits = columns_of_splits(work);
  heads.insert(heads.end(), splits.begin(), splits.end());
  std::vector<Texts> rows;
  for (std::size_t k = 0; k < side.pairs.made.size(); ++k) {
    const Pair& pair = side.pairs.made[k];
    Texts row{std::to_string(pair.id),
              std::to_string(pair.first_run) + " and " + std::to_string(pair.second_run)};
    for (const PageSplit& split : work.splits) {
      if (split.asked) {
        row.push_back(
            cell_of(split.sides[i].pairs[k], work.page.compared.clock, split.sides[i].decimals.pairs));
      }
    }
    rows.push_back(std::move(row));
  }
  return rows.empty()
             ? ""
             : html_table((side.name.empty() ? "Pairs" : side.name + ": pairs") +
                              std::string(" out and back, both ways, seconds; ± of the measurement alone"),
                          heads, rows, "figures");
}

}  // namespace

std::string splits_part(const PageWork& work) {
  std::string out;
  if (!work.page.compared.comparisons.empty()) {
    for (std::size_t c = 0; c < work.page.compared.comparisons.size(); ++c) {
      out += comparison_table(work, c);
    }
  } else {
    out += ride_table(work);
  }
  return out;
}

std::string runs_part(const PageWork& work) {
  std::string detail;
  for (std::size_t i = 0; i < work.page.compared.sides.size(); ++i) {
    if (count_runs(work.page.compared.sides[i].rides) > 0) {
      detail += R"(<div class="side" data-side=")" + std::to_string(i) + "\">\n" + pairs_table_of(work, i) +
                runs_table_of(work, i) + "</div>\n";
    }
  }
  return detail;
}

}  // namespace bothways
