#include "bothways/report/summary_logs.hpp"

#include "bothways/report/conditions.hpp"
#include "bothways/report/escape.hpp"
#include "bothways/report/explain.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/table.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>
#include <string>

namespace bothways {

namespace {

std::string format_words(LogFormat format) {
  std::string words = to_string(format);
  std::transform(words.begin(), words.end(), words.begin(),
                 [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
  return words;
}

std::string rate_words(double rate_hz) {
  if (!std::isfinite(rate_hz) || rate_hz <= 0.0) {
    return "";
  }
  if (rate_hz < 0.95) {
    return ", one every " + fixed(1.0 / rate_hz, rate_hz > 0.2 ? 1 : 0) + " s";
  }
  const double whole = rounded(rate_hz, 0);
  return ", " + fixed(rate_hz, std::abs(rate_hz - whole) < 0.05 * whole ? 0 : 1) + " a second";
}

std::string span_words(const Ride& ride, const SummaryOptions& options) {
  if (!ride.dated) {
    return time_of_day(ride.first) + " to " + time_of_day(ride.last) + ", the day is not in the log";
  }
  const std::string first_day = date_words(ride.first);
  const std::string last_day = date_words(ride.last);
  return first_day + " " + time_of_day(ride.first) + " to " + (first_day == last_day ? "" : last_day + " ") +
         time_of_day(ride.last) + " UTC" + local_span(ride.first, ride.last, true, options);
}

std::string log_words(const Ride& ride, const SummaryOptions& options) {
  return (ride.path == "-" ? "Standard input" : ride.path) + (ride.part ? ", a part of it: " : ": ") +
         format_words(ride.format) + ", " + count_of_fixes(ride.fixes, ride.readings) +
         rate_words(ride.receiver.rate_hz) + "; " + source_words(ride.source) + "; " +
         span_words(ride, options);
}

/// "4", "4 and 5", "4 to 9"; empty if there is none.
std::string run_numbers(const Ride& ride) {
  const auto& runs = ride.runs.accepted;
  if (runs.empty()) {
    return "";
  }
  std::string text = std::to_string(runs.front().id);
  if (runs.size() > 1) {
    text += (runs.size() == 2 ? " and " : " to ") + std::to_string(runs.back().id);
  }
  return text;
}

/// The folder that all paths begin with, with its slash; may be empty.
std::string common_folder(const std::vector<Ride>& rides) {
  std::string common = rides.front().path;
  for (const Ride& ride : rides) {
    const auto differ = std::mismatch(common.begin(), common.end(), ride.path.begin(), ride.path.end());
    common.erase(differ.first, common.end());
  }
  return common.substr(0, common.rfind('/') + 1);
}

/// The end of a long path says more than its beginning.
std::string tail_of(const std::string& path) {
  constexpr std::size_t most = 30;
  std::string text = escaped(path);
  if (display_width(text) <= most) {
    return text;
  }
  while (display_width(text) > most - 1) {
    text.erase(0, 1);
    while ((static_cast<unsigned char>(text.front()) & 0xC0U) == 0x80U) {
      text.erase(0, 1);
    }
  }
  return "…" + text;
}

void write_logs_table(std::ostream& out, const Result& result, const SummaryOptions& options) {
  const std::string folder = common_folder(result.rides);
  Table table{"logs",
              {{"log", ""},
               {"fixes", "", ColumnKind::number},
               {"rate", "hz", ColumnKind::number, "a second"},
               {"speed", ""},
               {"start", "", ColumnKind::time, "start UTC"},
               {"runs", ""}},
              {}};
  for (const Ride& ride : result.rides) {
    table.rows.push_back({tail_of(ride.path.substr(folder.size())),
                          Number{static_cast<double>(ride.fixes), 0}, Number{ride.receiver.rate_hz, 1},
                          std::string(to_string(ride.source)), TimeCell{ride.first, ride.dated},
                          run_numbers(ride)});
  }
  const bool parts = std::any_of(result.rides.begin(), result.rides.end(),
                                 [](const Ride& ride) { return ride.part.has_value(); });
  out << wrapped(std::to_string(result.rides.size()) + (parts ? " logs and parts of logs" : " logs") +
                     (folder.empty() ? "" : " in " + escaped(folder)),
                 options.width, "", "  ")
      << '\n';
  write_text(out, table, {.width = options.width, .time_decimals = 0});
}

/// One line of conditions for all logs that share a file.
void write_conditions(std::ostream& out, const Result& result, const SummaryOptions& options) {
  std::string last;
  for (const Ride& ride : result.rides) {
    if (!ride.conditions || ride.conditions->file == last) {
      continue;
    }
    last = ride.conditions->file;
    std::string text;
    for (const std::string& phrase : condition_phrases(*ride.conditions, result.metric)) {
      text += (text.empty() ? "" : "; ") + escaped(phrase);
    }
    if (!text.empty()) {
      out << wrapped("Conditions (" + escaped(last) + "): " + text, options.width, "", "  ") << '\n';
    }
  }
}

void write_logs_one_by_one(std::ostream& out, const Result& result, const SummaryOptions& options) {
  for (const Ride& ride : result.rides) {
    out << wrapped(escaped(log_words(ride, options)), options.width, "", "  ") << '\n';
    if (options.explain) {
      explain_receiver(out, ride, options);
    }
  }
}

}  // namespace

void write_logs(std::ostream& out, const Result& result, const SummaryOptions& options) {
  if (result.rides.empty()) {
    return;
  }
  write_heading(out, "What was read", options);
  if (result.rides.size() > most_told && !options.explain) {
    write_logs_table(out, result, options);
  } else {
    write_logs_one_by_one(out, result, options);
  }
  write_conditions(out, result, options);
}

void write_runs_of_logs(std::ostream& out, const Result& result, const SummaryOptions& options) {
  if (result.rides.size() == 1 || (result.rides.size() > most_told && !options.explain)) {
    return;
  }
  for (const Ride& ride : result.rides) {
    const std::size_t count = ride.runs.accepted.size();
    if (count > 0) {
      out << wrapped((count == 1 ? "Run " : "Runs ") + run_numbers(ride) + ": " + escaped(ride.path),
                     options.width, "  ", "    ")
          << '\n';
    }
  }
}

}  // namespace bothways
