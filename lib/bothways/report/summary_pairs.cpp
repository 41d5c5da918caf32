#include "bothways/report/escape.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <utility>
#include <vector>

namespace bothways {

namespace {

const TwoWay* find_two_way(const Pair& pair, const std::string& name) {
  const auto found = std::find_if(pair.splits.begin(), pair.splits.end(),
                                  [&](const TwoWay& s) { return s.spec.name == name; });
  return found == pair.splits.end() ? nullptr : &*found;
}

/// Decimals of one split, alike for all pairs.
int decimals_of(const Result& result, const SplitSpec& spec) {
  std::vector<Estimate> column;
  for (const Pair& pair : result.pairs.made) {
    if (const TwoWay* split = find_two_way(pair, spec.name)) {
      column.push_back(chosen(*split, result.clock));
    }
  }
  return common_decimals(column);
}

/// Two rows a pair: the two-way result and, below it, the plain mean of the two times.
Table pairs_for_people(const Result& result) {
  Table table{"pairs", {{"pair", "", ColumnKind::number}, {"runs", ""}}, {}};
  std::vector<int> decimals;
  for (const SplitSpec& spec : result.splits) {
    table.columns.push_back({spec.name, "s", ColumnKind::estimate, spec.name});
    decimals.push_back(decimals_of(result, spec));
  }
  for (const Pair& pair : result.pairs.made) {
    std::vector<Cell> two_way{Number{static_cast<double>(pair.id), 0},
                              std::to_string(pair.first_run) + " and " + std::to_string(pair.second_run)};
    std::vector<Cell> plain{Cell(), std::string("plain mean")};
    for (std::size_t i = 0; i < result.splits.size(); ++i) {
      const TwoWay* split = find_two_way(pair, result.splits[i].name);
      const bool known = split != nullptr && is_printable(chosen(*split, result.clock));
      two_way.push_back(known ? Cell(plus_minus(chosen(*split, result.clock), decimals[i])) : Cell());
      plain.push_back(
          known ? Cell(fixed(rounded(plain_mean_s(result, pair, *split), machine_decimals), decimals[i]))
                : Cell());
    }
    table.rows.push_back(std::move(two_way));
    table.rows.push_back(std::move(plain));
  }
  return table;
}

/// The smallest share of each split's road over all pairs, in words.
std::string overlap_words(const Result& result) {
  std::string text;
  for (const SplitSpec& spec : result.splits) {
    double least = 2.0;
    for (const Pair& pair : result.pairs.made) {
      if (const TwoWay* split = find_two_way(pair, spec.name)) {
        least = std::min(least, split->overlap);
      }
    }
    if (least <= 1.0) {
      text +=
          (text.empty() ? "" : ", ") + spec.name + " " + fixed(std::floor(least * 100.0 + 1e-9), 0) + " %";
    }
  }
  return std::string("Part of the road that both ways used") +
         (result.pairs.made.size() > 1 ? ", at least: " : ": ") + text + ".";
}

/// "1", "1 and 2", "1, 2 and 5", "1 to 6"
std::string list_words(const std::vector<int>& ids) {
  constexpr std::size_t many = 4;
  if (ids.size() >= many && ids.back() - ids.front() + 1 == static_cast<int>(ids.size())) {
    return std::to_string(ids.front()) + " to " + std::to_string(ids.back());  // they rise
  }
  std::string text;
  for (std::size_t i = 0; i < ids.size(); ++i) {
    const char* before = i + 1 == ids.size() ? " and " : ", ";
    text += (i == 0 ? "" : before) + std::to_string(ids[i]);
  }
  return text;
}

/// Notes of one kind are told once, with the text of the first pair that has it.
void write_pair_notes(std::ostream& out, const Pairs& pairs, const SummaryOptions& options) {
  std::vector<std::string> told;
  for (const Pair& pair : pairs.made) {
    for (const Note& note : pair.notes) {
      if (std::find(told.begin(), told.end(), note.code) != told.end()) {
        continue;
      }
      told.push_back(note.code);
      std::vector<int> ids;
      for (const Pair& other : pairs.made) {
        if (std::any_of(other.notes.begin(), other.notes.end(),
                        [&](const Note& n) { return n.code == note.code; })) {
          ids.push_back(other.id);
        }
      }
      const std::string which = ids.size() == 1
                                    ? "Pair " + list_words(ids) + ": "
                                    : "Pairs " + list_words(ids) + " (the figures are those of pair " +
                                          std::to_string(ids.front()) + "): ";
      out << wrapped(escaped(which + note.text), options.width, "", "  ") << '\n';
    }
  }
}

/// Runs without a partner; many of one reason are told once, with the text of the first.
void write_singles(std::ostream& out, const Pairs& pairs, const SummaryOptions& options) {
  constexpr std::size_t most_alike = 3;
  std::vector<std::string> told;
  for (const Single& single : pairs.single) {
    std::vector<int> ids;
    for (const Single& other : pairs.single) {
      if (other.code == single.code) {
        ids.push_back(other.run);
      }
    }
    std::string text = "Run " + std::to_string(single.run) + " stands alone: " + single.text;
    if (ids.size() > most_alike && !options.explain) {
      if (std::find(told.begin(), told.end(), single.code) != told.end()) {
        continue;
      }
      told.push_back(single.code);
      text = "Runs " + list_words(ids) + " stand alone; the first: " + single.text;
    }
    out << wrapped(escaped(text), options.width, "", "  ") << '\n';
  }
}

Table overall_for_people(const Result& result) {
  const bool several_days = std::any_of(result.overall.begin(), result.overall.end(),
                                        [](const Overall& row) { return row.days > 1; });
  std::vector<Estimate> column;
  for (const Overall& row : result.overall) {
    column.push_back(chosen(row, result.clock));
  }
  const int decimals = common_decimals(column);
  Table table{"overall",
              {{"split", ""},
               {"time", "s", ColumnKind::estimate, "both ways"},
               {"best_one_way", "s", ColumnKind::number, "best one way"},
               {"pairs", "", ColumnKind::number}},
              {}};
  if (several_days) {
    table.columns.push_back({"days", "", ColumnKind::number});
  }
  for (const Overall& row : result.overall) {
    if (!is_printable(chosen(row, result.clock))) {
      continue;
    }
    std::vector<Cell> cells{row.spec.name, chosen(row, result.clock),
                            Number{rounded(best_one_way_s(row, result.clock), machine_decimals), decimals},
                            Number{static_cast<double>(row.pairs), 0}};
    if (several_days) {
      cells.emplace_back(Number{static_cast<double>(row.days), 0});
    }
    table.rows.push_back(std::move(cells));
  }
  return table;
}

/// The wind that the runs tell, and what of it was taken off; empty where they do not tell it.
std::string wind_words(const Result& result) {
  const auto told = std::find_if(result.pairs.winds.begin(), result.pairs.winds.end(),
                                 [](const DayWind& wind) { return wind.told; });
  if (told == result.pairs.winds.end() || result.overall.empty()) {
    return "";
  }
  const double factor = result.metric ? mps_per_kmh : mps_per_mph;
  const char* unit = result.metric ? " km/h" : " mph";
  const bool against = told->along_mps.value >= 0.0;
  const double lo = (against ? told->along_mps.lo95 : -told->along_mps.hi95) / factor;
  const double hi = (against ? told->along_mps.hi95 : -told->along_mps.lo95) / factor;
  const Overall& longest =
      *std::max_element(result.overall.begin(), result.overall.end(), [](const Overall& a, const Overall& b) {
        return a.as_ridden_s - a.rollout.value < b.as_ridden_s - b.rollout.value;
      });
  if (lo < 0.5) {
    return "Judging by the runs, the wind along the road was less than " + fixed(std::max(hi, -lo), 0) +
           unit + ".";
  }
  return "The runs look like " + fixed(std::abs(told->along_mps.value) / factor, 0) + unit +
         " of wind along the road (" + fixed(lo, 0) + " to " + fixed(hi, 0) + "), " +
         (against ? "against" : "with") + " the runs to " + compass_word(told->heading_deg) +
         ". It costs more one way than it gives back the other: " +
         fixed(longest.as_ridden_s - longest.rollout.value, 2) + " s at " + longest.spec.name +
         ", taken off.";
}

/// How several days are taken; empty for one.
std::string days_words(const std::vector<Overall>& rows) {
  const auto most = std::max_element(rows.begin(), rows.end(),
                                     [](const Overall& a, const Overall& b) { return a.days < b.days; });
  if (most->days < 2) {
    return "";
  }
  return "Pairs of one day share weather and rider, so the ± allows for how much the days differ, and "
         "more pairs on one of the days hardly help.";
}

/// What few pairs cannot tell; empty if there are enough.
std::string few_pairs_words(const std::vector<Overall>& rows, Clock clock) {
  const auto fewest = std::min_element(rows.begin(), rows.end(),
                                       [](const Overall& a, const Overall& b) { return a.pairs < b.pairs; });
  if (fewest->pairs == 1) {
    const Budget& budget = clock == Clock::rollout ? fewest->budget : fewest->budget_movement;
    return "One pair cannot show how much starts differ from each other. The ± allows the "
           "usual amount for that, " +
           fixed(std::hypot(budget.scatter, budget.block), 2) + " s at " + fewest->spec.name +
           " (one sd). Three pairs or more would show it.";
  }
  return "";
}

}  // namespace

void write_pairs(std::ostream& out, const Result& result, const SummaryOptions& options) {
  const auto& pairs = result.pairs;
  if (pairs.made.empty()) {
    return;  // write_overall() says so and why
  }
  write_heading(out, count_of(pairs.made.size(), "pair", "pairs") + " of runs, out and back", options);
  out << wrapped(
             (options.clock_told ? "" : "Seconds: " + std::string(describe(result.clock)) + ". ") +
                 "Slope and wind help one way and hinder the other. The two-way figure is for a level road "
                 "in still air; its ± allows for what slope, wind and starts leave. Under each pair, for "
                 "comparison, is the plain mean of its two times.",
             options.width)
      << '\n';
  write_text(out, pairs_for_people(result), {.width = options.width, .keys = 2});
  if (options.explain) {
    out << wrapped(overlap_words(result), options.width) << '\n';
  }
  write_pair_notes(out, pairs, options);
  write_singles(out, pairs, options);
}

void write_overall(std::ostream& out, const Result& result, const SummaryOptions& options) {
  if (count_runs(result.rides) == 0) {
    return;
  }
  if (result.overall.empty()) {
    write_heading(out, "No result both ways: no pair of runs, out and back", options);
    write_singles(out, result.pairs, options);
    return;
  }
  write_heading(out, "Result, both ways", options);
  out << wrapped("Seconds: " + std::string(describe(result.clock)) + rolling_words(result) +
                     ". Out and back taken together, for a level road in still air. ± is the 95 % interval; "
                     "it allows for receiver, starts, slope, wind and day." +
                     marks_words(result.marks_chosen),
                 options.width)
      << '\n';
  write_text(out, overall_for_people(result), {.width = options.width});
  for (const std::string& remark :
       {wind_words(result), days_words(result.overall), few_pairs_words(result.overall, result.clock)}) {
    if (!remark.empty()) {
      out << wrapped(remark, options.width) << '\n';
    }
  }
}

void write_notes(std::ostream& out, const Result& result, const SummaryOptions& options) {
  const auto notes = notes_by_kind(pointers_to(result.rides), false);
  if (options.quiet || notes.empty()) {
    return;
  }
  write_heading(out, "Notes", options);
  for (const Note& note : notes) {
    out << wrapped(escaped(note.text), options.width, "  ", "    ") << '\n';
  }
}

}  // namespace bothways
