#include "bothways/report/summary.hpp"

#include "bothways/report/budget.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/explain.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary_logs.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <ostream>
#include <sstream>
#include <string>
#include <vector>

namespace bothways {

namespace {

/// The day of all runs, or empty if they are of several days or a day is not known.
std::string day_of_all(const Result& result) {
  std::string day;
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      const std::string of_run = ride.dated ? date_words(shifted(run.movement, 0.5)) : "";
      if (of_run.empty() || (!day.empty() && day != of_run)) {
        return "";
      }
      day = of_run;
    }
  }
  return day;
}

/// What the figures are, where nothing above says so.
std::string clock_words(const Result& result, const SummaryOptions& options) {
  return options.clock_told ? ""
                            : "Seconds: " + std::string(describe(result.clock)) + rolling_words(result) +
                                  ". ± is the 95 % interval." + marks_words(result.marks_chosen);
}

/// The splits that no run reached, which have no column.
std::string unreached_words(const Result& result) {
  std::string names;
  for (const SplitSpec& spec : result.splits) {
    const auto reaches = [&](const Run& run) { return find_split(run, spec.name) != nullptr; };
    if (std::none_of(result.rides.begin(), result.rides.end(), [&](const Ride& ride) {
          return std::any_of(ride.runs.accepted.begin(), ride.runs.accepted.end(), reaches);
        })) {
      names += (names.empty() ? "" : ", ") + spec.name;
    }
  }
  return names;
}

bool any_dated(const Result& result) {
  return std::any_of(result.rides.begin(), result.rides.end(), [](const Ride& ride) { return ride.dated; });
}

bool ends_at_distance(const SplitSpec& spec) {
  return std::holds_alternative<Length>(spec.to);
}

Estimate in_unit(Estimate speed, double unit) {
  for (double* figure : {&speed.value, &speed.sd, &speed.lo95, &speed.hi95}) {
    *figure /= unit;
  }
  return speed;
}

/// The columns of the runs' table: one a split, with the speed at its end where that is a distance.
std::vector<Column> columns_of_runs(const Result& result, const SummaryOptions& options) {
  std::vector<Column> columns{{"run", "", ColumnKind::number},
                              {"start", "", ColumnKind::time, any_dated(result) ? "start UTC" : "start"}};
  if (options.local) {
    columns.push_back({"local", "", ColumnKind::time, "local"});
  }
  columns.push_back({"direction", ""});
  for (const SplitSpec& spec : result.splits) {
    columns.push_back({spec.name, "s", ColumnKind::estimate, spec.name});
    if (ends_at_distance(spec)) {
      columns.push_back(
          {spec.name + " speed", "", ColumnKind::estimate,
           (result.metric ? "km/h at " : "mph at ") + spec.name.substr(spec.name.rfind('-') + 1)});
    }
  }
  columns.push_back({"top_speed", "", ColumnKind::number, result.metric ? "top km/h" : "top mph"});
  return columns;
}

/// A split of a run and, where it ends at a distance, the speed there; empty where the run did not reach it.
void add_split_cells(const Result& result, const Run& run, const SplitSpec& spec, std::vector<Cell>& row) {
  const double unit_mps = result.metric ? mps_per_kmh : mps_per_mph;
  const Split* split = find_split(run, spec.name);
  row.push_back(split != nullptr ? Cell(chosen(*split, result.clock)) : Cell());
  if (ends_at_distance(spec)) {
    row.push_back(split != nullptr && split->speed_mps ? Cell(in_unit(*split->speed_mps, unit_mps)) : Cell());
  }
}

std::vector<Cell> row_of_run(const Result& result, const Ride& ride, const Run& run,
                             const SummaryOptions& options) {
  std::vector<Cell> row{Number{static_cast<double>(run.id), 0}, TimeCell{run.movement, ride.dated}};
  if (options.local) {
    row.push_back(ride.dated ? Cell(TimeCell{options.local(run.movement), true}) : Cell());
  }
  row.emplace_back(direction_words(heading_deg(run)));
  for (const SplitSpec& spec : result.splits) {
    add_split_cells(result, run, spec, row);
  }
  row.emplace_back(Number{run.top_speed_mps / (result.metric ? mps_per_kmh : mps_per_mph), 0});
  return row;
}

Table runs_for_people(const Result& result, const SummaryOptions& options) {
  Table table{"runs", columns_of_runs(result, options), {}};
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      table.rows.push_back(row_of_run(result, ride, run, options));
    }
  }
  return table;
}

/// "Top speed of each run in turn: 28, 27, 28 mph."
std::string top_speed_words(const Result& result) {
  std::vector<std::string> tops;
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      tops.push_back(fixed(run.top_speed_mps / (result.metric ? mps_per_kmh : mps_per_mph), 0));
    }
  }
  const std::string unit = result.metric ? " km/h" : " mph";
  if (std::all_of(tops.begin(), tops.end(), [&](const std::string& top) { return top == tops.front(); })) {
    return "Top speed: " + tops.front() + unit + (tops.size() > 1 ? " in every run." : ".");
  }
  std::string text = "Top speed of each run in turn:";
  for (const std::string& top : tops) {
    text += (text.back() == ':' ? " " : ", ") + top;
  }
  return text + unit + ".";
}

/// The runs; top speeds in a line of their own where their column would make a second table.
void write_runs_table(std::ostream& out, const Result& result, const SummaryOptions& options, bool one_day) {
  const TextOptions text_options{
      .width = options.width, .keys = options.local ? 4U : 3U, .times_only = one_day, .time_decimals = 0};
  Table table = runs_for_people(result, options);
  std::ostringstream whole;
  write_text(whole, table, text_options);
  if (whole.str().find("\n\n") == std::string::npos) {
    out << whole.str();
    return;
  }
  table.columns.pop_back();
  for (auto& row : table.rows) {
    row.pop_back();
  }
  write_text(out, table, text_options);
  out << wrapped(top_speed_words(result), options.width) << '\n';
}

}  // namespace

std::string told_time(Instant at, bool dated, const SummaryOptions& options) {
  const std::string utc = time_of_day(at);
  return options.local && dated ? utc + " (" + time_of_day(options.local(at)) + " local)" : utc;
}

std::string local_span(Instant first, Instant last, bool dated, const SummaryOptions& options) {
  return options.local && dated ? " (" + time_of_day(options.local(first)) + " to " +
                                      time_of_day(options.local(last)) + " in " + options.zone + ")"
                                : "";
}

void write_heading(std::ostream& out, const std::string& text, const SummaryOptions& options) {
  out << '\n' << (options.colour ? "\x1b[1m" : "") << text << (options.colour ? "\x1b[0m" : "") << '\n';
}

void say(std::ostream& out, const std::string& text, const SummaryOptions& options, bool inside) {
  out << wrapped(escaped(text), options.width, inside ? "  " : "", inside ? "    " : "") << '\n';
}

void write_warning(std::ostream& out, const std::string& text, const SummaryOptions& options) {
  const bool ends = text.ends_with('.') || text.ends_with('?');
  out << (options.colour ? "\x1b[33m" : "")
      << wrapped(escaped("Take care: " + text + (ends ? "" : ".")), options.width, "", "  ")
      << (options.colour ? "\x1b[0m" : "") << '\n';
}

void write_mixed_setups(std::ostream& out, const Result& result, const SummaryOptions& options) {
  if (const std::string text = mixed_setups_words(result); !text.empty()) {
    write_warning(out, text, options);
  }
}

void write_runs(std::ostream& out, const Result& result, const SummaryOptions& options) {
  const std::size_t count = count_runs(result.rides);
  const std::string day = day_of_all(result);
  if (count == 0) {
    write_heading(out, "No runs", options);
    return;
  }
  write_heading(out, count_of(count, "run", "runs") + (day.empty() ? "" : " on " + day), options);
  if (const std::string words = clock_words(result, options); !words.empty()) {
    out << wrapped(words, options.width) << '\n';
  }
  write_runs_of_logs(out, result, options);
  write_runs_table(out, result, options, !day.empty());
  if (const std::string names = unreached_words(result); !names.empty()) {
    out << wrapped("No run reached the end of: " + names + ".", options.width) << '\n';
  }
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      for (const Note& note : run.notes) {
        if (!options.quiet) {
          out << wrapped(escaped("Run " + std::to_string(run.id) + ": " + note.text), options.width, "", "  ")
              << '\n';
        }
      }
    }
  }
  if (options.explain) {
    explain_splits(out, result, options);
    explain_budget(out, result, options);
  }
}

namespace {

/// Parts begin with an empty line; a page does not.
void write_page(std::ostream& out, const std::ostringstream& page) {
  const std::string text = page.str();
  out << text.substr(std::min(text.find_first_not_of('\n'), text.size()));
}

void write_cautions(std::ostream& out, const Result& result, const SummaryOptions& options) {
  write_mixed_setups(out, result, options);
  write_warnings(out, pointers_to(result.rides), options);
}

}  // namespace

void write_summary(std::ostream& out, const Result& result, const SummaryOptions& options) {
  std::ostringstream page;
  SummaryOptions below = options;
  write_overall(page, result, options);
  below.clock_told = !result.overall.empty();
  if (below.clock_told) {
    write_cautions(page, result, options);
  }
  write_pairs(page, result, below);
  write_runs(page, result, below);
  if (!below.clock_told) {
    write_cautions(page, result, options);
  }
  write_left_out(page, result, options);
  write_logs(page, result, options);
  write_notes(page, result, options);
  write_page(out, page);
}

void write_runs_summary(std::ostream& out, const Result& result, const SummaryOptions& options) {
  std::ostringstream page;
  write_runs(page, result, options);
  write_cautions(page, result, options);
  write_left_out(page, result, options);
  write_logs(page, result, options);
  write_notes(page, result, options);
  write_page(out, page);
}

void write_pairs_summary(std::ostream& out, const Result& result, const SummaryOptions& options) {
  std::ostringstream page;
  SummaryOptions below = options;
  write_overall(page, result, options);
  write_cautions(page, result, options);
  below.clock_told = !result.overall.empty();
  write_pairs(page, result, below);
  write_logs(page, result, options);
  write_notes(page, result, options);
  write_page(out, page);
}

}  // namespace bothways
