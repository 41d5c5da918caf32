#include "bothways/report/notes.hpp"

#include "bothways/report/escape.hpp"
#include "bothways/report/words.hpp"

#include <algorithm>
#include <array>
#include <ostream>
#include <string_view>
#include <utility>

namespace bothways {

namespace {

constexpr std::array<std::string_view, 10> warning_codes{
    "outside-sections", "bad-conditions", "conditions-misnamed", "speed-unit",    "speed-without-unit",
    "same-ride",        "clock-not-set",  "date-jump",           "week-rollover", "too-many-fixes"};

/// Notes that say the same of several logs.
struct Kind {
  const Ride* ride = nullptr;  ///< the first
  const Note* note = nullptr;  ///< of it
  const Ride* last = nullptr;  ///< that has such a note
  std::size_t logs = 0;
};

/// The kind that a note of another log belongs to: the same words, else the same code.
Kind* kind_of(std::vector<Kind>& kinds, const Ride* ride, const Note& note) {
  const auto other = [&](const Kind& kind) { return kind.ride != ride; };
  auto found = std::find_if(kinds.begin(), kinds.end(),
                            [&](const Kind& kind) { return other(kind) && kind.note->text == note.text; });
  if (found == kinds.end()) {
    found = std::find_if(kinds.begin(), kinds.end(),
                         [&](const Kind& kind) { return other(kind) && kind.note->code == note.code; });
  }
  return found == kinds.end() ? nullptr : &*found;
}

/// Notes of one code in one log differ, and each is told.
std::vector<Kind> kinds_of(std::span<const Ride* const> rides, bool warnings) {
  std::vector<Kind> kinds;
  for (const Ride* ride : rides) {
    for (const Note& note : ride->notes) {
      if (is_warning(note.code) != warnings) {
        continue;
      }
      Kind* kind = kind_of(kinds, ride, note);
      if (kind == nullptr) {
        kinds.push_back({ride, &note, ride, 1});
      } else if (std::exchange(kind->last, ride) != ride) {
        ++kind->logs;
      }
    }
  }
  return kinds;
}

/// True if the sentence says "line 12" itself.
bool tells_line(const std::string& text, const std::string& line) {
  const std::size_t at = text.find(line);
  return at != std::string::npos &&
         (text + ' ').find_first_of("0123456789", at + line.size()) != at + line.size();
}

std::string place_of(const Kind& kind, bool one_log) {
  std::string place;
  // Sentences about conditions and same rides name their files themselves.
  if (!one_log && kind.note->text.find(kind.ride->path) == std::string::npos) {
    place = kind.ride->path == "-" ? "standard input" : kind.ride->path;
  }
  const std::string line = "line " + std::to_string(kind.note->line);
  if (kind.note->line > 0 && !tells_line(kind.note->text, line)) {
    place += (place.empty() ? "" : ", ") + line;
  }
  return place;
}

}  // namespace

bool is_warning(const std::string& code) {
  return std::find(warning_codes.begin(), warning_codes.end(), code) != warning_codes.end();
}

std::vector<const Ride*> pointers_to(const std::vector<Ride>& rides) {
  std::vector<const Ride*> all;
  all.reserve(rides.size());
  for (const Ride& ride : rides) {
    all.push_back(&ride);
  }
  return all;
}

std::vector<Note> notes_by_kind(std::span<const Ride* const> rides, bool warnings) {
  std::vector<Note> notes;
  for (const Kind& kind : kinds_of(rides, warnings)) {
    std::string place = place_of(kind, rides.size() == 1);
    if (kind.logs > 1) {
      place = "in " + std::to_string(kind.logs) + " logs" + (place.empty() ? "" : ", the first " + place);
      place.front() = 'I';
    }
    notes.push_back({kind.note->code, place + (place.empty() ? "" : ": ") + kind.note->text, 0});
  }
  return notes;
}

void write_warnings(std::ostream& out, std::span<const Ride* const> rides, const SummaryOptions& options) {
  for (const Note& note : notes_by_kind(rides, true)) {
    write_warning(out, note.text, options);
  }
}

}  // namespace bothways
