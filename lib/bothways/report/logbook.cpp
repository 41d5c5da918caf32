#include "bothways/report/logbook.hpp"

#include "bothways/report/compared.hpp"
#include "bothways/report/notes.hpp"
#include "bothways/report/result_records.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <vector>

namespace bothways {

namespace {

std::vector<const Ride*> rides_of(const LogbookEntry& entry) {
  std::vector<const Ride*> rides;
  for (const Ride& ride : entry.side.rides) {
    rides.push_back(&ride);
  }
  return rides;
}

const Difference* difference_of(const LogbookEntry& entry, const std::string& split) {
  if (!entry.change) {
    return nullptr;
  }
  const auto& rows = entry.change->differences;
  const auto found =
      std::find_if(rows.begin(), rows.end(), [&](const Difference& row) { return row.spec.name == split; });
  return found == rows.end() ? nullptr : &*found;
}

/// The difference from the set-up before, as a comparison has it, without what the row tells already.
Record change_record(const LogbookEntry& entry, const Difference* difference) {
  const Difference nothing;
  const Difference& row = difference != nullptr ? *difference : nothing;
  const bool there = difference != nullptr;
  Record record{{"against", if_so(there, there ? entry.change->before : "")}};
  add_estimate(record, {.value = {"difference", "difference_time"}, .spread = {"", "difference"}},
               there ? row.difference : Estimate{unknown, unknown, unknown, unknown});
  record.insert(record.end(), {{"p_value", if_so(there, Number{row.p_value, p_decimals(row.p_value)})},
                               {"pairs_before", if_so(there, row.pairs_before)},
                               {"pairs_after", if_so(there, row.pairs_after)},
                               {"verdict", if_so(there, to_string(row.verdict))},
                               {"text", if_so(there, row.text)}});
  return record;
}

/// Of a day without a pair no figure but that it has none.
Record figures_of(const Overall* overall, Clock clock) {
  if (overall != nullptr) {
    return overall_record(*overall, clock);
  }
  Record record = emptied(overall_record({}, clock));
  for (Field& field : record) {
    if (field.key.column == "pairs") {
      field.value = 0;
    }
  }
  return record;
}

Record row_of(const Logbook& book, const LogbookEntry& entry, const Overall* overall) {
  Record row = origin_record(rides_of(entry));
  row.push_back({"runs", static_cast<long long>(count_runs(entry.side.rides))});
  append(row, figures_of(overall, book.clock));
  append(row, change_record(entry, overall != nullptr ? difference_of(entry, overall->spec.name) : nullptr));
  return row;
}

}  // namespace

std::string day_of(const LogbookEntry& entry) {
  const Ride& first = entry.side.rides.front();
  return first.dated ? date_words(first.first) : "";
}

std::string change_words(const LogbookEntry& entry) {
  if (!entry.change) {
    return "";
  }
  for (const Difference& row : entry.change->differences) {
    if (row.main) {
      return row.text;
    }
  }
  return "no split in common with " + entry.change->before;
}

std::vector<Note> change_warnings(const Logbook& book) {
  std::vector<const LogbookEntry*> last;
  for (const LogbookEntry& entry : book.entries) {
    if (!entry.change) {
      continue;
    }
    const auto earlier = std::find_if(last.rbegin(), last.rend(), [&](const LogbookEntry* other) {
      return other->vehicle == entry.vehicle;
    });
    const bool again = earlier != last.rend() && (*earlier)->change->before == entry.change->before &&
                       (*earlier)->change->after == entry.change->after;
    if (again) {
      *earlier = &entry;
    } else {
      last.push_back(&entry);
    }
  }
  std::vector<Note> warnings;
  for (const LogbookEntry* entry : last) {
    warnings.insert(warnings.end(), entry->change->warnings.begin(), entry->change->warnings.end());
  }
  return warnings;
}

std::vector<std::string> warnings_of(const Logbook& book) {
  std::vector<std::string> texts;
  const auto add = [&texts](const Note& note) {
    if (std::find(texts.begin(), texts.end(), note.text) == texts.end()) {
      texts.push_back(note.text);
    }
  };
  const std::vector<Note> changes = change_warnings(book);
  std::for_each(changes.begin(), changes.end(), add);
  std::vector<const Ride*> rides;
  for (const LogbookEntry& entry : book.entries) {
    const auto own = rides_of(entry);
    rides.insert(rides.end(), own.begin(), own.end());
  }
  const std::vector<Note> notes = notes_by_kind(rides, true);
  std::for_each(notes.begin(), notes.end(), add);
  return texts;
}

Table logbook_table(const Logbook& book) {
  std::vector<Record> rows;
  for (const LogbookEntry& entry : book.entries) {
    if (entry.overall.empty()) {
      rows.push_back(row_of(book, entry, nullptr));
    }
    for (const Overall& overall : entry.overall) {
      rows.push_back(row_of(book, entry, &overall));
    }
  }
  LogbookEntry nowhere;
  nowhere.side.rides.emplace_back();
  return table_of("logbook", emptied(row_of(book, nowhere, nullptr)), rows,
                  {"date", "setup", "vehicle", "split"});
}

}  // namespace bothways
