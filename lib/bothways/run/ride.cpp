#include "bothways/run/ride.hpp"

#include "bothways/run/reach.hpp"
#include "bothways/speed/derive.hpp"

#include <algorithm>
#include <iterator>
#include <limits>
#include <utility>

namespace bothways {

namespace {

void move_notes(std::vector<Note>& from, std::vector<Note>& to) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
  from.clear();
}

/// Where a log lasts for days, what is beyond the first of them has no picture.
constexpr std::size_t longest_profile = 200'000;

SpeedProfile profile_of(const SpeedSeries& series) {
  SpeedProfile profile;
  if (series.stretches.empty()) {
    return profile;
  }
  profile.start = series.stretches.front().start;
  struct Sum {
    double v_mps = 0.0;
    int count = 0;
    int at_rest = 0;
  };
  std::vector<Sum> sums;
  for (const Stretch& stretch : series.stretches) {
    const double offset_s = static_cast<double>(stretch.start.unix_us - profile.start.unix_us) * 1e-6;
    for (std::size_t i = 0; i < stretch.t_s.size(); ++i) {
      const double step = (offset_s + stretch.t_s[i]) / SpeedProfile::step_s;
      if (step < 0.0 || step >= static_cast<double>(longest_profile)) {
        continue;
      }
      const auto at = static_cast<std::size_t>(step);
      sums.resize(std::max(sums.size(), at + 1));
      sums[at].v_mps += stretch.smooth_mps[i];
      sums[at].at_rest += stretch.at_rest[i];
      ++sums[at].count;
    }
  }
  profile.v_mps.reserve(sums.size());
  profile.at_rest.reserve(sums.size());
  for (const Sum& sum : sums) {
    profile.v_mps.push_back(sum.count > 0 ? static_cast<float>(sum.v_mps / sum.count)
                                          : std::numeric_limits<float>::quiet_NaN());
    profile.at_rest.push_back(2 * sum.at_rest > sum.count ? 1 : 0);
  }
  return profile;
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
  ride.readings = series.readings;
  ride.moved_only = series.moved_only;
  ride.trace = trace_of(log, series.source);
  if (ride.readings > 0) {
    ride.trace.step_s = 1.0 / series.receiver.rate_hz;
    ride.trace.fixes = ride.readings;
  }
  for (const Stretch& stretch : series.stretches) {
    for (const double v_mps : stretch.smooth_mps) {
      ride.top_speed_mps = std::max(ride.top_speed_mps, v_mps);
    }
  }
  ride.timed_up_to_mps = timed_up_to_mps(series);
  ride.profile = profile_of(series);
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
