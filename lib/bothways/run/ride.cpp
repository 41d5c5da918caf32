#include "bothways/run/ride.hpp"

#include "bothways/speed/derive.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace bothways {

namespace {

void move_notes(std::vector<Note>& from, std::vector<Note>& to) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
  from.clear();
}

}  // namespace

Ride analyse(const Log& log, const RunOptions& options) {
  SpeedSeries series = speed_series(log);
  Ride ride{.path = log.path, .format = log.format, .dated = log.dated, .fixes = log.fixes.size()};
  if (!log.fixes.empty()) {
    ride.first = log.fixes.front().time;
    ride.last = log.fixes.back().time;
  }
  ride.source = series.source;
  ride.receiver = series.receiver;
  ride.trace = trace_of(log, series.source);
  for (const Stretch& stretch : series.stretches) {
    for (const double v_mps : stretch.smooth_mps) {
      ride.top_speed_mps = std::max(ride.top_speed_mps, v_mps);
    }
  }
  ride.runs = find_runs(series, options);
  ride.notes = log.notes;
  move_notes(series.notes, ride.notes);
  move_notes(ride.runs.notes, ride.notes);
  return ride;
}

}  // namespace bothways
