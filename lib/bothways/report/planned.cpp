#include "bothways/report/planned.hpp"

#include "bothways/report/contract_parts.hpp"
#include "bothways/report/json.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <ostream>

namespace bothways {

namespace {

constexpr std::array pairs_shown{2, 3, 4, 5, 6, 8, 10};
constexpr int many_pairs = 12;  // more standing starts than most people ride in a day
constexpr int most_pairs = 50;  // nobody rides more; no ride plan then
constexpr int few_pairs = 5;    // show the scatter only roughly

/// Decimals that leave two digits.
int two_digits(double amount) {
  return amount > 0.0 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(amount))), 0, 12) : 0;
}

/// Alike down the column of what pairs show.
int column_digits(const PlannedSplit& split) {
  return split.shown.empty() ? 0 : std::min(two_digits(split.shown.back().difference), machine_decimals);
}

/// So many decimals at most: "0.2", "0.15".
std::string short_number(double amount, int decimals) {
  std::string text = fixed(amount, decimals);
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    text.erase(text.find_last_not_of('.') + 1);
  }
  return text;
}

std::string cases_words(double power) {
  // Rounded down: never more than there is.
  return std::to_string(std::min(99, static_cast<int>(std::floor(100.0 * power)))) + " of 100 cases";
}

std::string scatter_words(const std::string& scatter, const PlannedSplit& split) {
  std::string from;
  if (split.assumed) {
    from = "; assumed: a single pair does not show it";
  } else if (split.from_pairs > 0) {
    from = ", seen in " + std::to_string(split.from_pairs) + " pairs" +
           (split.setups > 1 ? " of " + std::to_string(split.setups) + " set-ups, each by itself" : "");
  }
  return "two-way results of one set-up scatter by " + scatter + " (sd" + from + ")";
}

/// Decimals of the difference asked for, and of those that numbers of pairs show.
struct Decimals {
  int asked = 0;
  int shown = 0;
};

/// As many more as it takes to see on which side of the difference asked for each number of pairs lies: what
/// five pairs show is not to read as what six are said to need.
Decimals told_apart(const PlannedSplit& split, Decimals decimals) {
  constexpr int most_more = 6;
  const double asked = split.plan.difference_s;
  const auto is_clear = [&](const Detectable& row) {
    return (row.difference <= asked) ==
           (rounded(row.difference, decimals.shown) <= rounded(asked, decimals.asked));
  };
  for (int more = 0; more < most_more && !std::all_of(split.shown.begin(), split.shown.end(), is_clear);
       ++more) {
    ++decimals.asked;
    ++decimals.shown;
  }
  return decimals;
}

Decimals decimals_for_people(const PlannedSplit& split) {
  return told_apart(split, {two_digits(split.plan.difference_s), column_digits(split)});
}

Decimals decimals_for_programs(const PlannedSplit& split) {
  return told_apart(split, {machine_decimals, machine_decimals});
}

std::string unit_of(const Planned& planned) {
  return planned.percent ? "percent" : "s";
}

Table seen_table(const Planned& planned) {
  Table table{"seen", {{"pairs", "", ColumnKind::number, "pairs a side"}}, {}};
  for (const PlannedSplit& split : planned.splits) {
    const std::string unit = planned.percent ? "per cent" : "seconds";
    table.columns.push_back(
        {"difference", unit_of(planned), ColumnKind::number, split.name.empty() ? unit : split.name});
  }
  for (std::size_t i = 0; i < pairs_shown.size(); ++i) {
    std::vector<Cell> row{Number{static_cast<double>(pairs_shown[i]), 0}};
    for (const PlannedSplit& split : planned.splits) {
      row.emplace_back(Number{split.shown.at(i).difference, decimals_for_people(split).shown});
    }
    table.rows.push_back(std::move(row));
  }
  return table;
}

bool is_ridden(const Plan& plan) {
  return plan.pairs > 0 && plan.pairs <= most_pairs;
}

void write_ride_plan_of(std::ostream& out, const Planned& planned, const SummaryOptions& options) {
  const PlannedSplit& first = planned.splits.front();
  if (!is_ridden(first.plan)) {
    return;
  }
  write_heading(out, first.name.empty() ? "How to ride them" : "How to ride them, for " + first.name,
                options);
  write_ride_plan(out, first.plan.pairs, options);
}

void write_remarks(std::ostream& out, const Planned& planned, const SummaryOptions& options) {
  if (planned.splits.front().plan.pairs > many_pairs) {
    out << wrapped(
               "That is more than most people ride in a day. In calm weather on a level road results differ "
               "less; or be content to see only a larger difference.",
               options.width)
        << '\n';
  }
  for (const Note& note : planned.notes) {
    write_warning(out, note.text, options);
  }
  if (std::any_of(planned.splits.begin(), planned.splits.end(), [](const PlannedSplit& split) {
        return !split.assumed && split.from_pairs > 0 && split.from_pairs <= few_pairs;
      })) {
    // Chance that the sd of three normal results is below half the true one: 1 - exp(-1/4) = 0.22.
    out << wrapped(
               "A few pairs show only roughly how much results scatter: with three pairs, in one case of "
               "five it is really more than twice as much. Ride a pair or two more.",
               options.width)
        << '\n';
  }
}

Record plan_record(const Planned& planned, const PlannedSplit& split) {
  const std::string unit = "_" + unit_of(planned);
  const bool possible = split.plan.pairs > 0;
  const bool seen = split.from_pairs > 0;
  return {{{"name", "split"}, if_so(!split.name.empty(), split.name)},
          {"difference" + unit, Number{split.plan.difference_s, decimals_for_programs(split).asked}},
          {"scatter" + unit, Number{split.plan.scatter_s, machine_decimals}},
          {"pairs", if_so(possible, split.plan.pairs)},
          {"power", if_so(possible, Number{split.plan.power, 4})},
          {{"", "level"}, Number{planned.options.level, 4}},
          {"from_pairs", if_so(seen, split.from_pairs)},
          {{"setups", ""}, if_so(seen, split.setups)},
          {{"assumed", ""}, if_so(seen, split.assumed)},
          {"text", plan_words(planned, split)}};
}

Json split_json(const Planned& planned, const PlannedSplit& split) {
  Json object = to_json(plan_record(planned, split));
  object["shown"] = Json::array();
  for (const Detectable& shown : split.shown) {
    object["shown"].push_back(to_json(
        {{"pairs", shown.pairs},
         {"difference_" + unit_of(planned), Number{shown.difference, decimals_for_programs(split).shown}}}));
  }
  return object;
}

}  // namespace

std::span<const int> usual_numbers_of_pairs() {
  return pairs_shown;
}

std::string amount_words(double amount, bool percent) {
  return short_number(amount, two_digits(amount)) + (percent ? " %" : " s");
}

std::string plan_words(const Planned& planned, const PlannedSplit& split) {
  const std::string name = split.name.empty() ? "" : split.name + ": ";
  const std::string difference = short_number(split.plan.difference_s, decimals_for_people(split).asked) +
                                 (planned.percent ? " %" : " s");
  const std::string scatter = amount_words(split.plan.scatter_s, planned.percent);
  if (split.plan.pairs == 0) {
    return name + (name.empty() ? "A" : "a") + " difference of " + difference +
           " needs more pairs than anyone would ride; " + scatter_words(scatter, split);
  }
  return name + std::to_string(split.plan.pairs) + " pairs a side show a difference of " + difference +
         " in " + cases_words(split.plan.power) + "; " + scatter_words(scatter, split);
}

void write_ride_plan(std::ostream& out, int pairs, const SummaryOptions& options) {
  std::size_t step = 0;
  for (const std::string& sentence : ride_plan(pairs)) {
    ++step;
    const std::string number = std::to_string(step) + ". ";
    out << wrapped(sentence, options.width, std::string(step < 10 ? " " : "") + number, "    ") << '\n';
  }
}

Table plans_table(const Planned& planned) {
  std::vector<Record> rows;
  for (const PlannedSplit& split : planned.splits) {
    rows.push_back(plan_record(planned, split));
  }
  return table_of("plans", plan_record(planned, {}), rows);
}

void write_planned_json(std::ostream& out, const Planned& planned) {
  Json object{{"schema", json_schema}};
  put(object, {{"power", Number{planned.options.power, 4}}, {"level", Number{planned.options.level, 4}}});
  object["plans"] = Json::array();
  for (const PlannedSplit& split : planned.splits) {
    object["plans"].push_back(split_json(planned, split));
  }
  if (!planned.notes.empty()) {
    object["notes"] = notes_json(planned.notes);
  }
  object["ride_plan"] = Json::array();
  if (const Plan& plan = planned.splits.front().plan; is_ridden(plan)) {
    for (const std::string& sentence : ride_plan(plan.pairs)) {
      object["ride_plan"].push_back(sentence);
    }
  }
  out << object.dump(1) << '\n';
}

void write_planned_jsonl(std::ostream& out, const Planned& planned) {
  for (const PlannedSplit& split : planned.splits) {
    Json line{{"schema", json_schema}};
    line.update(split_json(planned, split));
    out << line.dump() << '\n';
  }
}

void write_planned(std::ostream& out, const Planned& planned, const SummaryOptions& options) {
  for (const PlannedSplit& split : planned.splits) {
    out << wrapped(plan_words(planned, split), options.width, "", "  ") << '\n';
  }
  write_remarks(out, planned, options);
  write_heading(out, "What each number of pairs a side can show", options);
  out << wrapped("The smallest difference, in " + std::string(planned.percent ? "per cent" : "seconds") +
                     ", that is seen in " + cases_words(planned.options.power) + ".",
                 options.width)
      << '\n';
  write_text(out, seen_table(planned), {.width = options.width, .keys = 1});
  write_ride_plan_of(out, planned, options);
}

}  // namespace bothways
