#include "bothways/report/summary.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/explain.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/summary_logs.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <ostream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr std::size_t most_alike = 3;  // more left-out starts of one kind are told in one line

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

std::string place_words(const LatLon& place) {
  if (!std::isfinite(place.lat_deg) || !std::isfinite(place.lon_deg)) {
    return "";
  }
  return " at " + fixed(place.lat_deg, 5) + ", " + fixed(place.lon_deg, 5);
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

Table runs_for_people(const Result& result) {
  Table table{"runs",
              {{"run", "", ColumnKind::number},
               {"start", "", ColumnKind::time, any_dated(result) ? "start UTC" : "start"},
               {"direction", ""}},
              {}};
  for (const SplitSpec& spec : result.splits) {
    table.columns.push_back({spec.name, "s", ColumnKind::estimate, spec.name});
  }
  table.columns.push_back({"top_speed", "", ColumnKind::number, result.metric ? "top km/h" : "top mph"});
  for (const Ride& ride : result.rides) {
    for (const Run& run : ride.runs.accepted) {
      std::vector<Cell> row{Number{static_cast<double>(run.id), 0}, TimeCell{run.movement, ride.dated},
                            direction_words(heading_deg(run))};
      for (const SplitSpec& spec : result.splits) {
        const Split* split = find_split(run, spec.name);
        row.push_back(split != nullptr ? Cell(chosen(*split, result.clock)) : Cell());
      }
      row.emplace_back(Number{run.top_speed_mps / (result.metric ? mps_per_kmh : mps_per_mph), 0});
      table.rows.push_back(std::move(row));
    }
  }
  return table;
}

std::string group_words(const std::vector<const Rejected*>& starts) {
  const bool equal = std::all_of(starts.begin(), starts.end(),
                                 [&](const Rejected* start) { return start->text == starts.front()->text; });
  return std::to_string(starts.size()) + " starts, " + time_of_day(starts.front()->time) + " to " +
         time_of_day(starts.back()->time) + (equal ? ", the first" : ", for example the first,") +
         place_words(starts.front()->place) + ": " + starts.front()->text;
}

void write_left_out_of(std::ostream& out, const Ride& ride, const SummaryOptions& options) {
  std::map<std::string, std::vector<const Rejected*>> alike;
  for (const Rejected& start : ride.runs.rejected) {
    alike[start.code].push_back(&start);
  }
  for (const Rejected& start : ride.runs.rejected) {
    const auto& group = alike[start.code];
    std::string text;
    if (group.size() <= most_alike || options.explain) {
      text = time_of_day(start.time) + place_words(start.place) + ": " + start.text;
    } else if (group.front() == &start) {
      text = group_words(group);
    } else {
      continue;
    }
    out << wrapped(escaped(text), options.width, "  ", "    ") << '\n';
  }
}

/// Many logs: one line for each reason.
void write_left_out_by_reason(std::ostream& out, const Result& result, const SummaryOptions& options) {
  struct Reason {
    std::size_t count = 0;
    std::string first;
  };
  std::vector<std::pair<std::string, Reason>> reasons;
  for (const Ride& ride : result.rides) {
    for (const Rejected& start : ride.runs.rejected) {
      auto found =
          std::find_if(reasons.begin(), reasons.end(), [&](const auto& r) { return r.first == start.code; });
      if (found == reasons.end()) {
        const std::string first = ride.path + " at " + time_of_day(start.time) + ": " + start.text;
        found = reasons.insert(reasons.end(), {start.code, {0, first}});
      }
      ++found->second.count;
    }
  }
  for (const auto& [code, reason] : reasons) {
    const std::string text = count_of(reason.count, "start", "starts") +
                             (reason.count == 1 ? ": " : ", the first: ") + reason.first;
    out << wrapped(escaped(text), options.width, "  ", "    ") << '\n';
  }
  out << "--explain lists each of them.\n";
}

}  // namespace

void write_heading(std::ostream& out, const std::string& text, const SummaryOptions& options) {
  out << '\n' << (options.colour ? "\x1b[1m" : "") << text << (options.colour ? "\x1b[0m" : "") << '\n';
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
  write_text(out, runs_for_people(result),
             {.width = options.width, .keys = 3, .times_only = !day.empty(), .time_decimals = 0});
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
  }
}

void write_left_out(std::ostream& out, const Result& result, const SummaryOptions& options) {
  std::size_t count = 0;
  for (const Ride& ride : result.rides) {
    count += ride.runs.rejected.size();
  }
  if (count > 0) {
    write_heading(out, "Left out: " + count_of(count, "start", "starts"), options);
  }
  if (result.rides.size() > most_told && count > most_alike && !options.explain) {
    write_left_out_by_reason(out, result, options);
    return;
  }
  for (const Ride& ride : result.rides) {
    if (result.rides.size() > 1 && !ride.runs.rejected.empty()) {
      out << wrapped(escaped(ride.path), options.width) << '\n';
    }
    write_left_out_of(out, ride, options);
  }
  if (options.explain) {
    explain_rules(out, result, options);
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
