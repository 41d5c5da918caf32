#pragma once

#include "bothways/pair/logbook.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"

#include <iosfwd>
#include <string>
#include <vector>

namespace bothways {

/// "2026-05-04"; empty where the day is not known.
[[nodiscard]] std::string day_of(const LogbookEntry& entry);

/// What the comparisons warn of: each change by its last day, which has all days before in it.
[[nodiscard]] std::vector<Note> change_warnings(const Logbook& book);

/// What to take care of, each once: what the comparisons warn of, and notes of logs that are warnings.
[[nodiscard]] std::vector<std::string> warnings_of(const Logbook& book);

/// One sentence of a change, of the split that decides; empty where there is no change.
[[nodiscard]] std::string change_words(const LogbookEntry& entry);

/// A row per set-up, day and split: the two-way result with its day, set-up, masses and weather, then the
/// difference from the set-up before. A day without a pair has one row without figures.
[[nodiscard]] Table logbook_table(const Logbook& book);

/// A row per set-up and day for people: its times, pairs, air, wind and mass. Texts are as they were written.
[[nodiscard]] Table entries_for_people(const Logbook& book);

/// For people: a row per set-up and day, then what each change did. With --explain all splits of each change.
void write_logbook(std::ostream& out, const Logbook& book, const SummaryOptions& options);

}  // namespace bothways
