#pragma once

#include "bothways/core/note.hpp"
#include "bothways/run/find.hpp"
#include "bothways/run/ride.hpp"
#include "cli/time_window.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace bothways::cli {

/// What of a log is known before it is parted.
struct LogSummary {
  LogExtent extent;
  std::vector<Note> notes;  ///< of its reading
};

/// A log, or a part of one: what was analysed as a ride of its own.
struct LogOrPart {
  std::string path;
  std::optional<PartOfLog> part;  ///< nothing: all of the log
};

/// Where analyses of logs are remembered. All may be called from several threads at once; a log is known by
/// what is in it, so it is read. What is not remembered is worked out as ever.
struct RideStore {
  std::function<std::optional<LogSummary>(const std::string& path)> find_summary;
  std::function<void(const std::string& path, const LogSummary& summary)> keep_summary;
  /// look_at() of this; its path is that of `log`. A part in which nothing was recorded has no fix; what is
  /// kept of a part has no notes, since those of its reading are the log's.
  std::function<std::optional<Ride>(const LogOrPart& log)> find_look;
  std::function<void(const LogOrPart& log, const Ride& look)> keep_look;
  /// The runs with these options, and the notes of the run stage; nothing else is filled.
  std::function<std::optional<Ride>(const LogOrPart& log, const RunOptions& options)> find_runs;
  std::function<void(const LogOrPart& log, const RunOptions& options, const Ride& runs)> keep_runs;
};

}  // namespace bothways::cli
