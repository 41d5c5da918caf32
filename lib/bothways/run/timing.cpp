#include "bothways/run/timing.hpp"

#include "bothways/core/parallel.hpp"
#include "bothways/launch/estimate.hpp"
#include "bothways/launch/leave_one_out.hpp"
#include "bothways/launch/posterior.hpp"
#include "bothways/launch/thinning.hpp"
#include "bothways/log/log.hpp"
#include "bothways/run/coverage.hpp"
#include "bothways/run/homogeneity.hpp"
#include "bothways/run/reach.hpp"
#include "bothways/run/split_times.hpp"
#include "bothways/run/window.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <numbers>
#include <numeric>
#include <utility>

namespace bothways {

namespace {

// Before anything is known of the motion: gear changes are no outliers.
constexpr double loose_jerk_density = 20.0;
constexpr double shared_below_hz = 4.0;  // above, a launch shows itself
// How well the sd of a receiver's noise is known from its log, eq. (5.6): the population, seeds 1 and 2,
// holds 91 to 94 % of single runs without it and 94 to 96 % with it (decision 0044).
constexpr double noise_known_to = 0.25;

/// A first weighing of the readings, under a loose model of the motion.
WeightedWindow first_weighted(const LaunchWindow& window, const LaunchModel& model) {
  LaunchModel loose = model;
  loose.motion.jerk_density = std::max(loose.motion.jerk_density, loose_jerk_density);
  return weighted_readings(window, loose, {});
}

Run timed(const StartWindow& window, const LaunchPosterior& posterior, const CountedStart& counted,
          const std::vector<SplitSpec>& splits, const std::vector<SplitSpec>& more, double noise_mps) {
  static const double coverage = coverage_factor(noise_known_to);
  Run run = widened(timed_run(posterior, splits, window.start, window.end_s, more), coverage);
  run.heading_deg = window.heading_deg.value_or(unknown);
  run.start = window.place;
  run.end = window.end_place;
  run.stop = window.stop_place;
  run.top_speed_mps = counted.start.top_mps;
  run.length_m = run.curve.s_m.empty() ? 0.0 : run.curve.s_m.back();
  run.gentle = counted.gentle;
  run.splits = within_reach(std::move(run.splits), run.top_speed_mps, noise_mps);
  run.more_splits = within_reach(std::move(run.more_splits), run.top_speed_mps, noise_mps);
  return run;
}

std::vector<StartWindow> windows_of(const SpeedSeries& series, const std::vector<CountedStart>& starts,
                                    const LaunchModel& model, bool long_creep) {
  std::vector<StartWindow> windows;
  windows.reserve(starts.size());
  for (const CountedStart& counted : starts) {
    windows.push_back(start_window(series, counted.start, model, long_creep));
  }
  return windows;
}

bool pulls_are_homogeneous(const SpeedSeries& series, const std::vector<CountedStart>& starts,
                           const std::vector<StartWindow>& windows) {
  const double noise_mps = total_noise_mps(series.receiver);
  std::vector<Pull> pulls;
  pulls.reserve(starts.size());
  double share = 0.0;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    pulls.push_back({starts[i].pull_mps2, windows[i].heading_deg.value_or(unknown)});
    share = std::max(share, std::numbers::sqrt2 * noise_mps / starts[i].gained_mps);  // of two readings
  }
  return homogeneous(pulls, share);
}

/// Where the launches of one log were estimated together or, unlike what a rider expects, one by one.
std::vector<Note> how_timed(const SpeedSeries& series, std::size_t starts, bool same_shape) {
  const bool slow = series.receiver.rate_hz < shared_below_hz || series.source == SpeedSource::positions;
  if (same_shape && slow) {
    return {{"shared-launch",
             fmt::format("This log shows too little of each launch alone: the launches of its {} starts, "
                         "which accelerated alike, were estimated together.",
                         starts)}};
  }
  if (!same_shape) {
    return {{"own-launch",
             "The starts did not all pull alike, as full throttle on one road usually does: each launch was "
             "estimated by itself, and times from rest are less sure."}};
  }
  return {};
}

}  // namespace

TimedStarts time_starts(const SpeedSeries& series, const std::vector<CountedStart>& starts,
                        const std::vector<SplitSpec>& splits, bool hard, const std::vector<SplitSpec>& more,
                        unsigned jobs) {
  TimedStarts out;
  const LaunchModel first_model = launch_model(series);
  std::vector<StartWindow> windows = windows_of(series, starts, first_model, !hard);
  const bool pooled = hard && pulls_are_homogeneous(series, starts, windows);
  if (hard && !pooled) {
    windows = windows_of(series, starts, first_model, true);
  }
  if (hard && starts.size() > 1) {
    out.notes = how_timed(series, starts.size(), pooled);
  }
  std::vector<LaunchWindow> launches(starts.size());
  std::vector<std::size_t> outliers(starts.size(), 0);  // a place for each start, for each is timed by itself
  for_each_index(starts.size(), jobs, [&](std::size_t i) {
    const WeightedWindow first = first_weighted(windows[i].launch, first_model);
    outliers[i] = first.outliers;
    launches[i] = thinned(first.window);
  });
  const LaunchEstimate estimate = estimate_launches(first_model, launches, series.receiver.smoothing, pooled);
  out.runs.resize(starts.size());
  for_each_index(starts.size(), jobs, [&](std::size_t i) {
    const std::vector<WeightedHypothesis>& hypotheses = estimate.hypotheses[i];
    // Once it is known how evenly the vehicle accelerates and how it gets away, a smaller outlier shows.
    const WeightedWindow launch =
        weighted_readings(launches[i], estimate.model, hypotheses.front().hypothesis);
    outliers[i] += launch.outliers;
    out.runs[i] = timed(windows[i], launch_posterior(launch.window, estimate.model, hypotheses), starts[i],
                        splits, more, total_noise_mps(series.receiver));
  });
  out.outliers = std::accumulate(outliers.begin(), outliers.end(), std::size_t{0});
  return out;
}

}  // namespace bothways
