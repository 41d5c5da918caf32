#include "bothways/run/ride.hpp"

#include "bothways/run/reach.hpp"
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

Ride look_at(const Log& log, const SpeedSeries& series) {
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
  ride.timed_up_to_mps = timed_up_to_mps(series);
  ride.notes = log.notes;
  return ride;
}

Ride with_runs(Ride ride, SpeedSeries series, const RunOptions& options) {
  ride.runs = find_runs(series, options);
  move_notes(series.notes, ride.notes);
  move_notes(ride.runs.notes, ride.notes);
  return ride;
}

double reach_mps(const std::vector<const Ride*>& rides) {
  std::vector<double> all;
  for (const Ride* ride : rides) {
    all.insert(all.end(), ride->timed_up_to_mps.begin(), ride->timed_up_to_mps.end());
  }
  return reach_mps(std::move(all));
}

Ride analyse(const Log& log, const RunOptions& options) {
  SpeedSeries series = speed_series(log);
  Ride ride = look_at(log, series);
  return with_runs(std::move(ride), std::move(series), options);
}

}  // namespace bothways
