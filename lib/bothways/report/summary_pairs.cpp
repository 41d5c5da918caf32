#include "bothways/report/escape.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <ostream>
#include <string>
#include <vector>

namespace bothways {

namespace {

const TwoWay* find_two_way(const Pair& pair, const std::string& name) {
  const auto found =
      std::find_if(pair.splits.begin(), pair.splits.end(), [&](const TwoWay& s) { return s.name == name; });
  return found == pair.splits.end() ? nullptr : &*found;
}

/// Two rows a pair: the two-way result and, below it, the plain mean of the two times.
Table pairs_for_people(const Result& result) {
  Table table{"pairs",
              {{"pair", "", ColumnKind::number}, {"runs", ""}, {"road", "", ColumnKind::text, "same road"}},
              {}};
  for (const SplitSpec& spec : result.splits) {
    table.columns.push_back({spec.name, "", ColumnKind::text, spec.name});
  }
  for (const Pair& pair : result.pairs.made) {
    std::vector<Cell> two_way{Number{static_cast<double>(pair.id), 0},
                              std::to_string(pair.first_run) + " and " + std::to_string(pair.second_run),
                              fixed(pair.overlap * 100, 0) + " %"};
    std::vector<Cell> plain{Cell(), std::string("plain mean"), Cell()};
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

std::string overall_words(const Overall& row, Clock clock) {
  const Estimate& e = chosen(row, clock);
  const Shown s = shown(e);
  std::string text = row.name + ": " + s.value + " s ± " + s.half + " s (95 %), " +
                     count_of(static_cast<std::size_t>(std::max(row.pairs, 0)), "pair", "pairs") +
                     " both ways; best one way " + shown_like(best_one_way_s(row, clock), e) + " s";
  if (row.pairs == 1) {
    text += ". One pair only: how much it would differ another time is not known and not in the ±";
  }
  return text;
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
                   "The plain mean, which does not see to that, stands below it.",
               options.width)
        << '\n';
    write_text(out, pairs_for_people(result), {.width = options.width, .keys = 3});
  } else {
    write_heading(out, "No pair of runs, out and back", options);
  }
  for (const Pair& pair : pairs.made) {
    for (const Note& note : pair.notes) {
      out << wrapped(escaped("Pair " + std::to_string(pair.id) + ": " + note.text), options.width, "", "  ")
          << '\n';
    }
  }
  for (const Single& single : pairs.single) {
    out << wrapped(escaped("Run " + std::to_string(single.run) + " stands alone: " + single.text),
                   options.width, "", "  ")
        << '\n';
  }
}

void write_overall(std::ostream& out, const Result& result, const SummaryOptions& options) {
  if (result.overall.empty()) {
    return;
  }
  write_heading(out, "Result, both ways (" + std::string(describe(result.clock)) + ")", options);
  for (const Overall& row : result.overall) {
    if (is_printable(chosen(row, result.clock))) {
      out << wrapped(overall_words(row, result.clock), options.width, "  ", "    ") << '\n';
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
