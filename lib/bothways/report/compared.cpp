#include "bothways/report/compared.hpp"

#include "bothways/pair/match.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr int p_digits = 3;

Cell whole(int n) {
  return Number{static_cast<double>(n), 0};
}

std::string no_pair_words(const Side& side) {
  const std::size_t runs = count_runs(side.rides);
  if (side.rides.empty()) {
    return side.name + " has no log";
  }
  if (runs == 0) {
    return side.name + " has no run in its " +
           (side.rides.size() == 1 ? "log" : std::to_string(side.rides.size()) + " logs");
  }
  std::string text = side.name + " has " + count_of(runs, "run", "runs") + " but no pair";
  const Single* first = side.pairs.single.empty() ? nullptr : &side.pairs.single.front();
  return first == nullptr ? text : text + "; run " + std::to_string(first->run) + ": " + first->text;
}

}  // namespace

int p_decimals(double p_value) {
  if (!(p_value > 0.0)) {
    return p_digits;
  }
  return std::clamp(p_digits - 1 - static_cast<int>(std::floor(std::log10(p_value))), p_digits, 12);
}

Result side_result(const Compared& compared, std::size_t side) {
  const Side& of = compared.sides.at(side);
  Result result{.clock = compared.clock,
                .metric = compared.metric,
                .splits = compared.splits,
                .rides = of.rides,
                .pairs = of.pairs};
  result.overall = overall(result.rides, result.pairs, split_names(result));
  return result;
}

bool has_differences(const Compared& compared) {
  return std::any_of(compared.comparisons.begin(), compared.comparisons.end(),
                     [](const Comparison& c) { return !c.differences.empty(); });
}

std::vector<Note> warnings_of(const Compared& compared) {
  std::vector<Note> all;
  for (const Comparison& comparison : compared.comparisons) {
    for (const Note& note : comparison.warnings) {
      if (std::none_of(all.begin(), all.end(), [&](const Note& n) { return n.text == note.text; })) {
        all.push_back(note);
      }
    }
  }
  return all;
}

std::vector<std::string> why_not_compared(const Compared& compared) {
  std::vector<std::string> sentences;
  for (const Side& side : compared.sides) {
    if (side.pairs.made.empty()) {
      sentences.push_back(no_pair_words(side));
    }
  }
  for (std::size_t i = 0; i < compared.comparisons.size(); ++i) {
    const Comparison& comparison = compared.comparisons[i];
    if (comparison.differences.empty() && !compared.sides.front().pairs.made.empty() &&
        !compared.sides[i + 1].pairs.made.empty()) {
      sentences.push_back(comparison.before + " and " + comparison.after +
                          " have no split in common; ask for one that both reach with --splits");
    }
  }
  return sentences;
}

Table differences_table(const Compared& compared) {
  Table table{"differences",
              {{"before", ""},
               {"after", ""},
               {"clock", ""},
               {"split", ""},
               {"main", ""},
               {"pairs_before", "", ColumnKind::number},
               {"pairs_after", "", ColumnKind::number},
               {"before", "s", ColumnKind::estimate},
               {"after", "s", ColumnKind::estimate},
               {"difference", "s", ColumnKind::estimate},
               {"p_value", "", ColumnKind::number},
               {"verdict", ""},
               {"more_pairs", "", ColumnKind::number},
               {"text", ""}},
              {}};
  for (const Comparison& comparison : compared.comparisons) {
    for (const Difference& row : comparison.differences) {
      table.rows.push_back({comparison.before, comparison.after, std::string(to_string(compared.clock)),
                            row.name, std::string(row.main ? "yes" : "no"), whole(row.pairs_before),
                            whole(row.pairs_after), row.before, row.after, row.difference,
                            Number{row.p_value, p_decimals(row.p_value)}, std::string(to_string(row.verdict)),
                            row.more_pairs > 0 ? whole(row.more_pairs) : Cell(), row.text});
    }
  }
  return table;
}

}  // namespace bothways
