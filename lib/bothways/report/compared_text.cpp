#include "bothways/report/budget.hpp"
#include "bothways/report/compared.hpp"
#include "bothways/report/compared_conditions.hpp"
#include "bothways/report/compared_sides.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <ostream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace bothways {

namespace {

Table times_for_people(const Comparison& comparison) {
  Table table{"differences",
              {{"split", ""},
               {"before", "s", ColumnKind::estimate, escaped(comparison.before)},
               {"after", "s", ColumnKind::estimate, escaped(comparison.after)},
               {"difference", "s", ColumnKind::estimate, "difference"}},
              {}};
  const int decimals = decimals_of_sides(comparison);
  for (const Difference& row : comparison.differences) {
    if (is_printable(row.before) && is_printable(row.after) && is_printable(row.difference)) {
      table.rows.push_back({row.spec.name, plus_minus(row.before, decimals), plus_minus(row.after, decimals),
                            signed_plus_minus(row.difference)});
    }
  }
  return table;
}

/// "before 3, after 2"
std::string pairs_words(const Comparison& comparison, const Difference& row) {
  return comparison.before + " " + std::to_string(row.pairs_before) + ", " + comparison.after + " " +
         std::to_string(row.pairs_after);
}

/// The pairs of the main split, and of the splits that rest on fewer.
std::string all_pairs_words(const Comparison& comparison, const Difference& main) {
  std::string text = pairs_words(comparison, main);
  for (const Difference& row : comparison.differences) {
    if (row.pairs_before != main.pairs_before || row.pairs_after != main.pairs_after) {
      text += "; at " + row.spec.name + " " + pairs_words(comparison, row);
    }
  }
  return text;
}

void write_basis(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  write_heading(out, "What this rests on", options);
  std::string decides;
  for (const Comparison& comparison : compared.comparisons) {
    if (const Difference* main = main_difference(comparison)) {
      say(out, "Pairs out and back: " + all_pairs_words(comparison, *main) + ".", options);
      decides = comparison.differences.size() > 1 ? main->spec.name : decides;
    }
  }
  say(out,
      "The figures in brackets and after the ± are 95 % intervals. They allow for receiver, starts, slope, "
      "wind, and what changes within a day and from day to day.",
      options);
  if (!decides.empty()) {
    say(out,
        decides +
            " decides. The other splits must show more before they count as a difference: among many "
            "splits one differs by chance.",
        options);
  }
  if (compared.comparisons.size() > 1) {
    say(out,
        "The more set-ups are compared with " + compared.sides.front().name +
            ", the likelier one of them differs by chance, so each must show more than it would alone.",
        options);
  }
}

void explain_difference(std::ostream& out, const Difference& row, const SummaryOptions& options) {
  std::string text = row.spec.name + ": p = " + fixed(row.p_value, p_decimals(row.p_value)) +
                     " (taken alone), sd of the difference " + fixed(row.difference.sd, machine_decimals) +
                     " s, sd between pairs of one side " + fixed(row.scatter_s, machine_decimals) + " s";
  if (row.days_before > 1 || row.days_after > 1) {
    text += ", days " + std::to_string(row.days_before) + " and " + std::to_string(row.days_after);
  }
  say(out, text, options);
}

void write_verdicts(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  for (const Comparison& comparison : compared.comparisons) {
    const bool two = compared.comparisons.size() == 1;
    write_heading(out,
                  two ? "Did the change help?"
                      : escaped(comparison.after + " against " + comparison.before + ": did it help?"),
                  options);
    if (comparison.differences.empty()) {
      say(out, "There is nothing to compare.", options);
    }
    for (const Difference& row : comparison.differences) {
      const bool bold = options.colour && row.main;
      out << (bold ? "\x1b[1m" : "");
      say(out, row.text, options);
      out << (bold ? "\x1b[0m" : "");
    }
    std::vector<std::pair<std::string, Budget>> budgets;
    for (const Difference& row : comparison.differences) {
      if (options.explain) {
        explain_difference(out, row, options);
        budgets.emplace_back(row.spec.name, row.budget);
      }
    }
    write_budget(out, "What the ± of the difference is made of", budgets, options);
  }
}

/// Where the runs cannot tell, what to ask next.
void write_next(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  const bool open =
      std::any_of(compared.comparisons.begin(), compared.comparisons.end(), [](const Comparison& comparison) {
        const Difference* main = main_difference(comparison);
        return main != nullptr && main->verdict == Verdict::cannot_tell;
      });
  if (open) {
    say(out, "To see how many pairs show how much: 'bothways plan --detect 0.1s' with the logs of one side.",
        options, false);
  }
}

/// What else differed, and what that may do: beside the difference, never taken off it.
void write_expected(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  const auto all = expected_of(compared);
  const bool mixed = has_mixed_conditions(compared);
  if (all.empty() && !mixed) {
    return;
  }
  write_heading(out, "What else was different", options);
  for (const ExpectedOf& expected : all) {
    const std::string who = compared.comparisons.size() > 1 ? expected.after + ": " : "";
    for (const ExpectedPart& part : expected.parts) {
      say(out, who + part.text, options);
    }
  }
  if (!all.empty()) {
    say(out, "These figures are for " + all.front().split + ". None of this is taken off the differences.",
        options, false);
  }
  if (mixed) {
    say(out,
        "The logs of one side have different conditions, or not all have any, so nothing was worked out "
        "from them.",
        options, false);
  }
}

void write_times(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  write_heading(out, "Both ways, out and back taken together", options);
  say(out,
      "Seconds on a level road in still air: " + std::string(describe(compared.clock)) +
          ". A difference below zero is quicker. ± is the 95 % interval." +
          marks_words(compared.marks_chosen),
      options, false);
  bool first = true;
  for (const Comparison& comparison : compared.comparisons) {
    if (!comparison.differences.empty()) {
      out << (first ? "" : "\n");
      write_text(out, times_for_people(comparison), {.width = options.width, .keys = 1});
      first = false;
    }
  }
}

/// Where nothing can be compared, what there is.
void write_apart(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  for (std::size_t i = 0; i < compared.sides.size(); ++i) {
    const Side& side = compared.sides[i];
    if (count_runs(side.rides) == 0) {
      continue;
    }
    const bool paired = !side.pairs.made.empty();
    write_heading(out, escaped(side.name + (paired ? ", for itself" : ", one way only")), options);
    if (paired) {
      write_overall(out, side_result(compared, i), options);
    } else {
      say(out, "Slope and wind are in these times, so they do not tell what a change did.", options, false);
      write_runs(out, side_result(compared, i), options);
    }
  }
}

}  // namespace

void write_compared(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  std::ostringstream page;
  write_verdicts(page, compared, options);
  for (const Note& warning : warnings_of(compared)) {
    write_warning(page, warning.text, options);
  }
  for (const Side& side : compared.sides) {
    write_warnings(page, pointers_to(side.rides), options);
  }
  if (has_differences(compared)) {
    write_times(page, compared, options);
    write_expected(page, compared, options);
    write_basis(page, compared, options);
    write_next(page, compared, options);
  } else {
    write_apart(page, compared, options);
  }
  write_sides(page, compared, options);
  const std::string text = page.str();
  out << text.substr(std::min(text.find_first_not_of('\n'), text.size()));
}

}  // namespace bothways
