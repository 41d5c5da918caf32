#include "cli/command.hpp"
#include "cli/compare_commands.hpp"
#include "cli/pipeline_commands.hpp"

#include <algorithm>
#include <array>

namespace bothways::cli {

namespace {

constexpr std::array<Command, 11> table{{
    {"", "LOG|FOLDER|- ...", "everything: two-way results, pairs, runs, and what was left out and why",
     all_options, run_all},
    {"fixes", "LOG|FOLDER|- ...", "the positions and speeds that were read", fixes_options, run_fixes},
    {"speed", "LOG|FOLDER|- ...", "speed against time, with its standard deviation (sd)", speed_options,
     run_speed},
    {"runs", "LOG|FOLDER|- ...", "the timed runs", runs_options, run_runs},
    {"pairs", "LOG|FOLDER|- ...", "runs paired out and back, with two-way results", pairs_options, run_pairs},
    {"compare", "BEFORE AFTER | --before PATH... --after PATH...",
     "whether a change helped: two or more set-ups compared", compare_options, run_compare},
    {"plan", "[--detect AMOUNT [--scatter AMOUNT | LOG|FOLDER|- ...]]",
     "how many pairs a side it takes to show a difference, and how to ride them", plan_options, run_plan},
    {"trip", "LOG|FOLDER|- ...", "distance, time, stops, highest speeds, fuel used", trip_options, run_trip},
    {"power", "LOG|FOLDER|- ...", "acceleration and power at the road against speed", power_options,
     run_power},
    {"page", "LOG|FOLDER|- ... | --before PATH... --after PATH...",
     "a page to look at and to send: one HTML file with charts", page_options, run_page},
    {"logbook", "FOLDER ...", "how each set-up did over time: one row per set-up and day", logbook_options,
     run_logbook},
}};

}  // namespace

std::span<const Command> commands() {
  return table;
}

std::string called(const Command& command) {
  return *command.name == '\0' ? "bothways" : "bothways " + std::string(command.name);
}

const Command* find_command(std::string_view name) {
  const auto* found =
      std::find_if(table.begin(), table.end(), [&](const Command& c) { return c.name == name; });
  return found == table.end() ? nullptr : found;
}

}  // namespace bothways::cli
