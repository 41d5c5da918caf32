#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/log/log.hpp"
#include "bothways/run/find.hpp"
#include "bothways/run/run.hpp"
#include "bothways/run/trace.hpp"
#include "bothways/speed/series.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace bothways {

/// One log after the run stage: what the later stages and the reports need of it, without its fixes.
struct Ride {
  std::string path;
  LogFormat format = LogFormat::gpx;
  bool dated = true;
  std::size_t fixes = 0;
  Instant first;  ///< time of the first fix
  Instant last;   ///< time of the last fix
  SpeedSource source = SpeedSource::reported;
  Receiver receiver;
  double top_speed_mps = 0.0;            ///< highest smoothed speed of the log
  std::optional<Conditions> conditions;  ///< as the rider wrote them down; analyse() leaves them empty
  std::vector<Note> notes;               ///< of the log, the speed stage and the run stage, in this order
  Runs runs;                             ///< its notes moved up to `notes`
  Trace trace;                           ///< thin track, by which logs of one ride are known
};

/// log -> speed -> runs in one call.
[[nodiscard]] Ride analyse(const Log& log, const RunOptions& options = {});

}  // namespace bothways
