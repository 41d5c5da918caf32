#include "cli/parts.hpp"

#include "bothways/log/part.hpp"
#include "bothways/report/words.hpp"
#include "cli/command.hpp"

#include <boost/program_options/value_semantic.hpp>

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace bothways::cli {

namespace po = boost::program_options;

namespace {

std::optional<WrittenTime> time_of(const po::variables_map& values, const char* name) {
  if (values.count(name) == 0) {
    return std::nullopt;
  }
  try {
    return parse_written_time(values[name].as<std::string>());
  } catch (const std::invalid_argument& error) {
    throw UsageError("--" + std::string(name) + ": " + error.what());
  }
}

std::string span_words(const Log& log) {
  const Instant first = log.fixes.front().time;
  const Instant last = log.fixes.back().time;
  return (log.dated ? date_words(first) + " " : "") + time_of_day(first) + " to " + time_of_day(last) +
         (log.dated ? " UTC" : "");
}

/// A stretch of time, and the section that is about it.
struct Stay {
  TimeSpan span;
  const SectionConditions* section = nullptr;  ///< none: between sections
};

/// Sections in order of time, and what lies between them, over the whole log.
std::vector<Stay> stays_of(const Log& log, const std::vector<SectionConditions>& sections, const Zone& zone) {
  std::vector<Stay> told;
  for (const SectionConditions& section : sections) {
    const TimeSpan span = span_in(section.window, log, zone);
    if (span.from < span.until) {
      told.push_back({span, &section});
    }
  }
  std::stable_sort(told.begin(), told.end(),
                   [](const Stay& a, const Stay& b) { return a.span.from < b.span.from; });
  std::vector<Stay> all;
  Instant here = log.fixes.front().time;
  for (std::size_t i = 0; i < told.size(); ++i) {
    Stay stay = told[i];
    if (i + 1 < told.size()) {  // an open section ends where the next begins
      stay.span.until = std::min(stay.span.until, told[i + 1].span.from);
    }
    if (here < stay.span.from) {
      all.push_back({{here, stay.span.from}});
    }
    here = std::max(here, stay.span.until);
    all.push_back(stay);
  }
  const Instant end{log.fixes.back().time.unix_us + 1};
  if (here < end) {
    all.push_back({{here, end}});
  }
  return all;
}

}  // namespace

void add_part_options(po::options_description& options) {
  auto add = options.add_options();
  const auto time = [] { return po::value<std::string>()->value_name("TIME"); };
  add("from", time(), "only what was recorded from then on: 10:30, 10:30:15 or \"2026-05-04 10:30\"");
  add("to", time(), "only what was recorded up to then");
  add_zone_option(options);
}

PartOptions parse_part(const po::variables_map& values, const Streams& streams) {
  PartOptions part{.window = {time_of(values, "from"), time_of(values, "to")},
                   .zone = parse_zone(values, streams)};
  const auto& [from, to] = part.window;
  if (from && to && from->dated && to->dated && to->at <= from->at) {
    throw UsageError("--to is not after --from");
  }
  return part;
}

Log within_window(Log log, const TimeWindow& window, const Zone& zone) {
  if (window.open() || log.fixes.empty()) {
    return log;
  }
  const TimeSpan span = span_in(window, log, zone);
  Log part = part_of(log, span.from, span.until);
  if (part.fixes.empty()) {
    throw OutsideWindow("nothing of it lies in the time asked for; it was recorded " + span_words(log));
  }
  return part;
}

std::vector<LogPart> parted(Log log, const TimeWindow& window, const FoundConditions& found,
                            const Zone& zone) {
  log = within_window(std::move(log), window, zone);
  log.notes.insert(log.notes.end(), found.notes.begin(), found.notes.end());
  std::vector<LogPart> parts;
  if (found.sections.empty() || log.fixes.empty()) {
    std::optional<PartOfLog> part;
    if (!window.open() && !log.fixes.empty()) {
      part = PartOfLog{log.fixes.front().time, {log.fixes.back().time.unix_us + 1}};
    }
    parts.push_back({std::move(log), found.conditions, part, false});
    return parts;
  }
  for (const Stay& stay : stays_of(log, found.sections, zone)) {
    LogPart part{part_of(log, stay.span.from, stay.span.until), found.conditions, std::nullopt,
                 stay.section == nullptr};
    if (part.log.fixes.empty()) {
      continue;
    }
    if (stay.section != nullptr) {
      part.conditions = stay.section->conditions;
    }
    part.part = PartOfLog{stay.span.from, stay.span.until};
    if (!parts.empty()) {
      part.log.notes.clear();
    }
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace bothways::cli
