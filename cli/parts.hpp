#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/run/ride.hpp"
#include "cli/conditions.hpp"
#include "cli/time_window.hpp"

#include <boost/program_options/options_description.hpp>
#include <boost/program_options/variables_map.hpp>

#include <optional>
#include <stdexcept>
#include <vector>

namespace bothways::cli {

/// Which part of a log counts.
struct PartOptions {
  TimeWindow window;
  Zone zone;
};

/// --from, --to, --time-zone
void add_part_options(boost::program_options::options_description& options);

/// @throws UsageError  if one of them is no time, or no zone.
[[nodiscard]] PartOptions parse_part(const boost::program_options::variables_map& values,
                                     const Streams& streams);

/// A log has nothing in the time asked for; what() is one sentence without the name of the log.
class OutsideWindow : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// The log within a window, all of it if the window is open.
/// @throws OutsideWindow  if it has no fix there.
[[nodiscard]] Log within_window(Log log, const TimeWindow& window, const Zone& zone);

/// A stretch of a log in which one set of conditions holds.
struct Stay {
  std::optional<Conditions> conditions;
  std::optional<PartOfLog> part;  ///< nothing: it is all of the log
  bool between = false;           ///< no section of the conditions is about it
};

/// The stretches that sections make of a log, in order of time, with those that none is about: all of the
/// log, whether there is a fix or not.
[[nodiscard]] std::vector<Stay> stays_of(const LogExtent& log, const FoundConditions& found,
                                         const Zone& zone);

/// A stretch with what was recorded in it.
struct LogPart {
  Log log;
  Stay stay;
};

/// What counts of a log, parted by the sections of its conditions: its stays with a fix. The notes of the log
/// stay with its first part, with those of `found` behind them.
[[nodiscard]] std::vector<LogPart> parted(Log log, const TimeWindow& window, const FoundConditions& found,
                                          const Zone& zone);

}  // namespace bothways::cli
