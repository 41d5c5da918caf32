#include "bothways/report/compared_sides.hpp"

#include "bothways/report/compared_conditions.hpp"
#include "bothways/report/conditions.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cstddef>
#include <ostream>
#include <set>
#include <string>
#include <vector>

namespace bothways {

namespace {

constexpr std::size_t most_logs_named = 3;

/// "2026-05-04", "2026-05-04 and 2026-05-11", "2026-05-04 to 2026-06-01"
std::string days_words(const Side& side) {
  std::set<std::string> days;
  for (const Ride& ride : side.rides) {
    if (ride.dated) {
      days.insert(date_words(ride.first));
    }
  }
  if (days.empty()) {
    return "";
  }
  const char* joint = days.size() == 2 ? " and " : " to ";
  return ", " + *days.begin() + (days.size() > 1 ? joint + *days.rbegin() : "");
}

std::string side_words(const Side& side) {
  const std::size_t pairs = side.pairs.made.size();
  return side.name + ": " + count_of(count_runs(side.rides), "run", "runs") + ", " +
         (pairs == 0 ? "no pair out and back" : count_of(pairs, "pair", "pairs") + " out and back") +
         days_words(side);
}

std::string path_words(const Ride& ride) {
  return ride.path == "-" ? "standard input" : ride.path;
}

/// The times of the parts of one log that are of a side.
std::string parts_words(const Side& side, const SummaryOptions& options) {
  std::string text;
  for (const Ride& ride : side.rides) {
    text += (text.empty() ? ": " : ", ") + time_of_day(ride.first) + " to " + time_of_day(ride.last) +
            local_span(ride.first, ride.last, ride.dated, options);
  }
  return path_words(side.rides.front()) + text + (side.rides.front().dated ? " UTC" : "");
}

/// The logs of a side, each on a line; many only with --explain.
void write_side_logs(std::ostream& out, const Side& side, const SummaryOptions& options) {
  if (side.rides.empty()) {
    return;
  }
  const bool parts = std::all_of(side.rides.begin(), side.rides.end(), [&](const Ride& ride) {
    return ride.part.has_value() && ride.path == side.rides.front().path;
  });
  if (parts) {
    say(out, parts_words(side, options), options);
    return;
  }
  if (side.rides.size() > most_logs_named) {
    say(out, count_of(side.rides.size(), "log", "logs"), options);
    return;
  }
  for (const Ride& ride : side.rides) {
    say(out, path_words(ride), options);
  }
}

/// Runs that the rider took out, with the reason.
void write_taken_out(std::ostream& out, const Side& side, const SummaryOptions& options) {
  for (const Ride& ride : side.rides) {
    for (const Rejected& start : ride.runs.rejected) {
      if (start.code == "left-out") {
        say(out, start.text, options);
      }
    }
  }
}

void write_side_conditions(std::ostream& out, const Side& side, bool metric, const SummaryOptions& options) {
  const auto conditions = conditions_of(side);
  std::string text;
  for (const std::string& phrase :
       conditions ? condition_phrases(*conditions, metric) : std::vector<std::string>{}) {
    text += (text.empty() ? "" : "; ") + phrase;
  }
  if (!text.empty()) {
    say(out, text, options);
  }
}

}  // namespace

void write_sides(std::ostream& out, const Compared& compared, const SummaryOptions& options) {
  write_heading(out, compared.sides.size() == 2 ? "The two sides" : "The sides", options);
  for (std::size_t i = 0; i < compared.sides.size(); ++i) {
    out << (options.explain && i > 0 ? "\n" : "");
    say(out, side_words(compared.sides[i]), options, false);
    if (!options.explain) {
      write_side_logs(out, compared.sides[i], options);
      write_taken_out(out, compared.sides[i], options);
      write_side_conditions(out, compared.sides[i], compared.metric, options);
    } else if (!compared.sides[i].rides.empty()) {
      const Result result = side_result(compared, i);
      write_logs(out, result, options);
      write_pairs(out, result, options);
      write_notes(out, result, options);
    }
  }
}

}  // namespace bothways
