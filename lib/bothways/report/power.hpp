#pragma once

#include "bothways/core/note.hpp"
#include "bothways/pair/power.hpp"
#include "bothways/report/summary.hpp"
#include "bothways/report/table.hpp"

#include <iosfwd>
#include <string>
#include <vector>

namespace bothways {

/// What `bothways power` found, and where the figures that it did not measure come from.
struct PowerResult {
  RoadPower power;
  bool metric = false;
  std::string mass_from;     ///< "--mass", "conditions.ini"
  std::string drag_from;     ///< "--drag-area", or "typical of two-wheelers with a rider, from books"
  std::string rolling_from;  ///< likewise
  std::string air_from;      ///< "the conditions", or "usual air, since the conditions do not say"
  std::string wind_from;
  std::vector<Note> notes;  ///< what to take care of: mixed-setups, and the warnings of the logs
};

/// What the figures rest on, a phrase a thing: mass, drag, rolling, air, wind.
[[nodiscard]] std::vector<std::string> load_words(const PowerResult& result);

/// Text for people.
void write_power(std::ostream& out, const PowerResult& result, const SummaryOptions& options);

/// A row per speed.
[[nodiscard]] Table power_table(const PowerResult& result);

/// One object: what was taken, and `rows` (docs/formats.md).
void write_power_json(std::ostream& out, const PowerResult& result);

}  // namespace bothways
