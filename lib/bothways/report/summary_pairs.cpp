#include "bothways/report/escape.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>
#include <vector>

namespace bothways {

namespace {

const TwoWay* find_two_way(const Pair& pair, const std::string& name) {
  const auto found = std::find_if(pair.splits.begin(), pair.splits.end(),
                                  [&](const TwoWay& s) { return s.spec.name == name; });
  return found == pair.splits.end() ? nullptr : &*found;
}

/// Two rows a pair: the two-way result and, below it, the plain mean of the two times.
Table pairs_for_people(const Result& result) {
  Table table{"pairs", {{"pair", "", ColumnKind::number}, {"runs", ""}}, {}};
  for (const SplitSpec& spec : result.splits) {
    table.columns.push_back({spec.name, "s", ColumnKind::estimate, spec.name});
  }
  for (const Pair& pair : result.pairs.made) {
    std::vector<Cell> two_way{Number{static_cast<double>(pair.id), 0},
                              std::to_string(pair.first_run) + " and " + std::to_string(pair.second_run)};
    std::vector<Cell> plain{Cell(), std::string("plain mean")};
    for (const SplitSpec& spec : result.splits) {
      const TwoWay* split = find_two_way(pair, spec.name);
      if (split == nullptr || !is_printable(chosen(*split, result.clock))) {
        two_way.emplace_back();
        plain.emplace_back();
        continue;
      }
      const Estimate& e = chosen(*split, result.clock);
      two_way.emplace_back(plus_minus(e));
      plain.emplace_back(shown_like(plain_mean_s(result, pair, *split), e));
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
  return std::string("Road used both ways") + (result.pairs.made.size() > 1 ? ", at least: " : ": ") + text +
         ".";
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
      const std::string which = ids.size() == 1 ? "Pair " + list_words(ids) + ": "
                                                : "Pairs " + list_words(ids) + "; in the first: ";
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

/// The best one-way time, rounded as in the table of runs where it stands.
std::string best_words(const Result& result, const Overall& row) {
  const double best_s = best_one_way_s(row, result.clock);
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      const Split* split = find_split(run, row.spec.name);
      if (split != nullptr && chosen(*split, result.clock).value == best_s) {
        return shown(chosen(*split, result.clock)).value;
      }
    }
  }
  return shown_like(best_s, chosen(row, result.clock));
}

std::string overall_words(const Result& result, const Overall& row) {
  const Shown s = shown(chosen(row, result.clock));
  return row.spec.name + ": " + s.value + " s ± " + s.half + " s (95 %), " +
         count_of(static_cast<std::size_t>(std::max(row.pairs, 0)), "pair", "pairs") + " both ways" +
         (row.days > 1 ? " on " + std::to_string(row.days) + " days" : "") + "; best one way " +
         best_words(result, row) + " s";
}

/// How several days are taken; empty for one.
std::string days_words(const std::vector<Overall>& rows) {
  const auto most = std::max_element(rows.begin(), rows.end(),
                                     [](const Overall& a, const Overall& b) { return a.days < b.days; });
  if (most->days < 2) {
    return "";
  }
  return std::string(
             "Pairs of one day share weather and rider, so each day counts once, and the ± holds how "
             "much the days differ.") +
         (most->days == 2 ? " Two days hardly show that; a third makes the ± much narrower." : "");
}

/// What few pairs cannot tell; empty if there are enough.
std::string few_pairs_words(const std::vector<Overall>& rows, Clock clock) {
  const auto fewest = std::min_element(rows.begin(), rows.end(),
                                       [](const Overall& a, const Overall& b) { return a.pairs < b.pairs; });
  if (fewest->pairs == 1) {
    const double allowance_s = clock == Clock::rollout ? fewest->allowance_s : fewest->allowance_movement_s;
    return "One pair cannot show how much results differ from time to time. For slope and wind the ± allows "
           "what they did in simulated rides, " +
           fixed(allowance_s, 2) + " s at " + fewest->spec.name +
           " (one sd), beside the receiver's doubt. Three pairs or more would show it.";
  }
  if (fewest->pairs == 2 && fewest->days == 1) {
    return "With two pairs the scatter between them is hardly known, hence a wide ±; one more pair makes it "
           "much "
           "narrower.";
  }
  return "";
}

}  // namespace

void write_pairs(std::ostream& out, const Result& result, const SummaryOptions& options) {
  if (count_runs(result.rides) == 0) {
    return;
  }
  const auto& pairs = result.pairs;
  if (!pairs.made.empty()) {
    write_heading(out, count_of(pairs.made.size(), "pair", "pairs") + " of runs, out and back", options);
    out << wrapped(
               "Seconds: " + std::string(describe(result.clock)) +
                   ". Slope and wind help one way and hinder the other; in the two-way figure they drop out. "
                   "Below it, to compare, the plain mean of the two times, in which part of them remains.",
               options.width)
        << '\n';
    write_text(out, pairs_for_people(result), {.width = options.width, .keys = 2});
    out << wrapped(overlap_words(result), options.width) << '\n';
  } else {
    write_heading(out, "No pair of runs, out and back", options);
  }
  write_pair_notes(out, pairs, options);
  write_singles(out, pairs, options);
}

void write_overall(std::ostream& out, const Result& result, const SummaryOptions& options) {
  if (result.overall.empty()) {
    return;
  }
  write_heading(out, "Result, both ways (" + std::string(describe(result.clock)) + ")", options);
  for (const Overall& row : result.overall) {
    if (is_printable(chosen(row, result.clock))) {
      out << wrapped(overall_words(result, row), options.width, "  ", "    ") << '\n';
    }
  }
  for (const std::string& remark :
       {days_words(result.overall), few_pairs_words(result.overall, result.clock)}) {
    if (!remark.empty()) {
      out << wrapped(remark, options.width) << '\n';
    }
  }
}

void write_notes(std::ostream& out, const Result& result, const SummaryOptions& options) {
  const bool any = std::any_of(result.rides.begin(), result.rides.end(),
                               [](const Ride& ride) { return !ride.notes.empty(); });
  if (options.quiet || !any) {
    return;
  }
  write_heading(out, "Notes", options);
  for (const Ride& ride : result.rides) {
    for (const Note& note : ride.notes) {
      std::string place = result.rides.size() > 1 ? ride.path : "";
      if (note.line > 0) {
        place += (place.empty() ? "line " : ", line ") + std::to_string(note.line);
      }
      out << wrapped(escaped(place + (place.empty() ? "" : ": ") + note.text), options.width, "  ", "    ")
          << '\n';
    }
  }
}

}  // namespace bothways
