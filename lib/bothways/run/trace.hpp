#pragma once

#include "bothways/core/time.hpp"
#include "bothways/log/log.hpp"
#include "bothways/speed/series.hpp"

#include <cstdint>
#include <limits>
#include <string>
#include <vector>

namespace bothways {

/// Where a log was at a whole multiple of trace_step_s since 1970, whatever the times of its fixes.
struct TracePoint {
  static constexpr std::int32_t nowhere = std::numeric_limits<std::int32_t>::min();
  std::int64_t step = 0;           ///< number of the step
  std::int32_t lat_1e7 = nowhere;  ///< 1e-7 degrees; `nowhere` if the log has no positions there
  std::int32_t lon_1e7 = nowhere;
};

/// Seconds; fixes further apart than twice this are not bridged.
inline constexpr double trace_step_s = 5.0;

/// The thin track of one log, 12 kB an hour: enough to tell whether another log recorded the same ride.
struct Trace {
  std::string path;
  LogFormat format = LogFormat::gpx;
  bool dated = true;
  SpeedSource source = SpeedSource::reported;
  double step_s = 0.0;  ///< median time between fixes, s; 0: fewer than two
  std::size_t fixes = 0;
  std::vector<TracePoint> points;  ///< rising in `step`
};

[[nodiscard]] Trace trace_of(const Log& log, SpeedSource source);

/// Whether the log was recording at this time, to two steps.
[[nodiscard]] bool covers(const Trace& trace, Instant time);

}  // namespace bothways
