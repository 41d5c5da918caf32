// The logbook for people.
#include "bothways/report/escape.hpp"
#include "bothways/report/logbook.hpp"
#include "bothways/report/number.hpp"
#include "bothways/report/text.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <ostream>
#include <set>
#include <string>
#include <vector>

namespace bothways {

namespace {

/// Figures of the conditions that all rides of a day have alike; empty where they differ or are not told.
std::string common_figure(const LogbookEntry& entry, std::string (*words)(const Conditions&)) {
  std::string common;
  for (const Ride& ride : entry.side.rides) {
    const std::string own = ride.conditions ? words(*ride.conditions) : "";
    if (&ride != &entry.side.rides.front() && own != common) {
      return "";
    }
    common = own;
  }
  return common;
}

std::string air_words(const Conditions& conditions) {
  const auto air = air_density_of(conditions);
  return air ? plus_minus(*air) : "";
}

std::string wind_words(const Conditions& conditions) {
  if (!conditions.wind_mps) {
    return "";
  }
  const std::string lo = fixed(conditions.wind_mps->lo, 0);
  const std::string hi = fixed(conditions.wind_mps->hi, 0);
  return lo == hi ? lo : lo + " to " + hi;
}

std::string mass_words(const Conditions& conditions) {
  return conditions.total_mass_kg ? fixed(*conditions.total_mass_kg, 0) : "";
}

const Overall* overall_of(const LogbookEntry& entry, const std::string& split) {
  const auto found = std::find_if(entry.overall.begin(), entry.overall.end(),
                                  [&](const Overall& row) { return row.spec.name == split; });
  return found == entry.overall.end() ? nullptr : &*found;
}

bool has_several_vehicles(const Logbook& book) {
  return std::any_of(book.entries.begin(), book.entries.end(), [&](const LogbookEntry& entry) {
    return entry.vehicle != book.entries.front().vehicle;
  });
}

Cell text_cell(const std::string& text) {
  return text.empty() ? Cell() : Cell(text);
}

/// A column of times, decimals alike; empty where a day has no pair that reaches it.
void add_times(const Logbook& book, const std::string& split, Table& table) {
  std::vector<Estimate> times;
  for (const LogbookEntry& entry : book.entries) {
    if (const Overall* row = overall_of(entry, split)) {
      times.push_back(chosen(*row, book.clock));
    }
  }
  const int decimals = common_decimals(times);
  table.columns.push_back({split, "s", ColumnKind::estimate, split});
  for (std::size_t i = 0; i < book.entries.size(); ++i) {
    const Overall* row = overall_of(book.entries[i], split);
    table.rows[i].push_back(row != nullptr && is_printable(chosen(*row, book.clock))
                                ? Cell(plus_minus(chosen(*row, book.clock), decimals))
                                : Cell());
  }
}

void write_changes(std::ostream& out, const Logbook& book, const SummaryOptions& options) {
  if (std::none_of(book.entries.begin(), book.entries.end(),
                   [](const LogbookEntry& entry) { return entry.change.has_value(); })) {
    return;
  }
  write_heading(out, "What each change did, with all days of the set-up until then", options);
  for (const LogbookEntry& entry : book.entries) {
    if (!entry.change) {
      continue;
    }
    say(out,
        day_of(entry) + ", " + entry.change->after + " against " + entry.change->before + ": " +
            change_words(entry) + ".",
        options);
    for (const Difference& row : entry.change->differences) {
      if (options.explain && !row.main) {
        say(out, "  " + row.text + ".", options);
      }
    }
  }
}

}  // namespace

Table entries_for_people(const Logbook& book) {
  Table table{"logbook", {{"day", ""}, {"setup", "", ColumnKind::text, "set-up"}}, {}};
  const bool vehicles = has_several_vehicles(book);
  if (vehicles) {
    table.columns.push_back({"vehicle", ""});
  }
  table.columns.push_back({"pairs", "", ColumnKind::number});
  for (const LogbookEntry& entry : book.entries) {
    auto& row = table.rows.emplace_back();
    row = {text_cell(day_of(entry)), entry.side.name};
    if (vehicles) {
      row.push_back(text_cell(entry.vehicle));
    }
    row.push_back(Number{static_cast<double>(entry.side.pairs.made.size()), 0});
  }
  for (const SplitSpec& split : book.splits) {
    add_times(book, split.name, table);
  }
  table.columns.push_back({"air", "kg/m³", ColumnKind::estimate, "air, kg/m³"});
  table.columns.push_back({"wind", "m/s", ColumnKind::number, "wind, m/s"});
  table.columns.push_back({"mass", "kg", ColumnKind::number, "mass, kg"});
  for (std::size_t i = 0; i < book.entries.size(); ++i) {
    for (const auto& words : {air_words, wind_words, mass_words}) {
      table.rows[i].push_back(text_cell(common_figure(book.entries[i], words)));
    }
  }
  return table;
}

void write_logbook(std::ostream& out, const Logbook& book, const SummaryOptions& options) {
  std::set<std::string> setups;
  std::set<std::string> days;
  for (const LogbookEntry& entry : book.entries) {
    setups.insert(entry.vehicle + '\n' + entry.setup);
    days.insert(day_of(entry));
  }
  out << wrapped("Logbook: " + count_of(setups.size(), "set-up", "set-ups") + ", " +
                     count_of(days.size(), "day", "days") + " of riding. Seconds: " + describe(book.clock) +
                     ", out and back taken together; ± is the 95 % interval.",
                 options.width)
      << "\n\n";
  write_text(out, entries_for_people(book), {.width = options.width, .keys = 2});
  write_changes(out, book, options);
  for (const std::string& text : warnings_of(book)) {
    write_warning(out, text, options);
  }
}

}  // namespace bothways
