#include "bothways/report/compared.hpp"

#include "bothways/report/number.hpp"
#include "bothways/report/result_records.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

constexpr int p_digits = 3;

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

int decimals_of_sides(const Comparison& comparison) {
  std::vector<Estimate> times;
  std::vector<Estimate> differences;
  for (const Difference& row : comparison.differences) {
    times.push_back(row.before);
    times.push_back(row.after);
    differences.push_back(row.difference);
  }
  return common_decimals(times, differences);
}

int p_decimals(double p_value) {
  if (!(p_value > 0.0)) {
    return p_digits;
  }
  return std::clamp(p_digits - 1 - static_cast<int>(std::floor(std::log10(p_value))), p_digits, 12);
}

Result side_result(const Compared& compared, std::size_t side) {
  const Side& of = compared.sides.at(side);
  return {.clock = compared.clock,
          .metric = compared.metric,
          .splits = compared.splits,
          .marks_chosen = compared.marks_chosen,
          .places = compared.places,
          .rides = of.rides,
          .pairs = of.pairs,
          .overall = compared.overall.at(side)};
}

const Difference* main_difference(const Comparison& comparison) {
  const auto& rows = comparison.differences;
  const auto main = std::find_if(rows.begin(), rows.end(), [](const Difference& d) { return d.main; });
  return main == rows.end() ? nullptr : &*main;
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

Record difference_record(const Comparison& comparison, const Difference& row) {
  Record record{{{"name", "split"}, row.spec.name},
                {"before", comparison.before},
                {"after", comparison.after},
                {{"", "clock"}, to_string(comparison.clock)},
                {"main", row.main}};
  add_estimate(record, {.value = {"before", "before_time"}, .spread = "before"}, row.before);
  add_estimate(record, {.value = {"after", "after_time"}, .spread = "after"}, row.after);
  add_estimate(record, {.value = {"difference", "difference_time"}, .spread = {"", "difference"}},
               row.difference);
  add_budget(record, row.budget);
  record.insert(record.end(), {{"p_value", Number{row.p_value, p_decimals(row.p_value)}},
                               {"pairs_before", row.pairs_before},
                               {"pairs_after", row.pairs_after},
                               {{"days_before", ""}, row.days_before},
                               {{"days_after", ""}, row.days_after},
                               {{"scatter_s", ""}, Number{row.scatter_s, machine_decimals}},
                               {{"allowance_s", ""},
                                if_so(row.allowance_s > 0.0, Number{row.allowance_s, machine_decimals})},
                               {"verdict", to_string(row.verdict)},
                               {"more_pairs", if_so(row.more_pairs > 0, row.more_pairs)},
                               {{"more_pairs_show_s", ""},
                                if_so(row.more_pairs > 0, Number{row.more.difference_s, machine_decimals})},
                               {"text", row.text}});
  return record;
}

Table differences_table(const Compared& compared) {
  std::vector<Record> rows;
  for (const Comparison& comparison : compared.comparisons) {
    for (const Difference& row : comparison.differences) {
      rows.push_back(difference_record(comparison, row));
    }
  }
  return table_of("differences", difference_record({}, {}), rows,
                  {"before", "after", "clock", "split", "main", "pairs_before", "pairs_after"});
}

Table compared_table(const Compared& compared) {
  const auto difference_row = [](const Comparison& comparison, const Difference& difference) {
    Record row{{"kind", "difference"}};
    append(row, difference_record(comparison, difference));
    return row;
  };
  const auto overall_row = [&](const std::string& side, const Overall& overall,
                               const std::vector<const Ride*>& rides) {
    Record row{{"kind", "overall"}, {"side", side}};
    append(row, overall_record(overall, compared.clock));
    append(row, origin_record(rides));
    return row;
  };
  std::vector<Record> rows;
  for (const Comparison& comparison : compared.comparisons) {
    for (const Difference& difference : comparison.differences) {
      rows.push_back(difference_row(comparison, difference));
    }
  }
  for (std::size_t i = 0; i < compared.sides.size(); ++i) {
    const Result result = side_result(compared, i);
    for (const Overall& overall : result.overall) {
      rows.push_back(overall_row(compared.sides[i].name, overall, rides_with_pairs(result, overall.spec)));
    }
  }
  const Ride nowhere;
  return table_of_kinds("comparison", {difference_row({}, {}), overall_row("", {}, {&nowhere})}, rows);
}

}  // namespace bothways
