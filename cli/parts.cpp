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

/// A section and when it was.
struct Told {
  TimeSpan span;
  const SectionConditions* section = nullptr;
};

/// In order of time; one that is open ends where the next begins.
std::vector<Told> sections_in(const LogExtent& log, const std::vector<SectionConditions>& sections,
                              const Zone& zone) {
  std::vector<Told> told;
  for (const SectionConditions& section : sections) {
    const TimeSpan span = span_in(section.window, log, zone);
    if (span.from < span.until) {
      told.push_back({span, &section});
    }
  }
  std::stable_sort(told.begin(), told.end(),
                   [](const Told& a, const Told& b) { return a.span.from < b.span.from; });
  for (std::size_t i = 1; i < told.size(); ++i) {
    told[i - 1].span.until = std::min(told[i - 1].span.until, told[i].span.from);
  }
  return told;
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
  const TimeSpan span = span_in(window, extent_of(log), zone);
  Log part = part_of(log, span.from, span.until);
  if (part.fixes.empty()) {
    throw OutsideWindow("nothing of it lies in the time asked for; it was recorded " + span_words(log));
  }
  return part;
}

std::vector<Stay> stays_of(const LogExtent& log, const FoundConditions& found, const Zone& zone) {
  std::vector<Stay> all;
  const auto add_between = [&](Instant from, Instant until) {
    if (from < until) {
      all.push_back({found.conditions, PartOfLog{from, until}, true});
    }
  };
  Instant here = log.first;
  for (const Told& told : sections_in(log, found.sections, zone)) {
    add_between(here, told.span.from);
    all.push_back({told.section->conditions, PartOfLog{told.span.from, told.span.until}, false});
    here = std::max(here, told.span.until);
  }
  add_between(here, {log.last.unix_us + 1});
  return all;
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
    parts.push_back({std::move(log), {found.conditions, part, false}});
    return parts;
  }
  for (Stay& stay : stays_of(extent_of(log), found, zone)) {
    Log part = part_of(log, stay.part->from, stay.part->until);
    if (part.fixes.empty()) {
      continue;
    }
    if (!parts.empty()) {
      part.notes.clear();
    }
    parts.push_back({std::move(part), std::move(stay)});
  }
  return parts;
}

}  // namespace bothways::cli
