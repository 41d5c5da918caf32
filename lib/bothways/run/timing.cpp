#include "bothways/run/timing.hpp"

#include "bothways/launch/launch.hpp"
#include "bothways/launch/model.hpp"
#include "bothways/launch/standing.hpp"
#include "bothways/launch/tune.hpp"
#include "bothways/run/alike.hpp"
#include "bothways/run/split.hpp"
#include "bothways/run/window.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <numbers>
#include <utility>

namespace bothways {

namespace {

constexpr double loose_jerk_density = 20.0;
constexpr double shared_below_hz = 4.0;  // above, a launch shows itself
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

Run timed(LaunchWindow& window, LaunchModel model, std::vector<LaunchGuess> guesses,
          const StandingStart& start, const std::vector<SplitSpec>& splits) {
  Run run;
  run.heading_deg = window.has_heading ? window.heading_deg : unknown;
  run.start = window.place;
  run.end = window.end_place;
  run.stop = window.stop_place;
  run.top_speed_mps = start.top_mps;
  std::vector<WeighedFit> fits;
  // Guesses that differ by shape alone have all else in common.
  while (!guesses.empty()) {
    const LaunchGuess first = guesses.front();
    const auto others = std::stable_partition(guesses.begin(), guesses.end(), [&](const LaunchGuess& g) {
      return g.lag_s == first.lag_s && g.early_factor == first.early_factor;
    });
    std::vector<SoughtShape> shapes;
    std::transform(guesses.begin(), others, std::back_inserter(shapes), [](const LaunchGuess& g) {
      return SoughtShape{g.shape, least_path_weight / g.weight};
    });
    model.motion.lag_s = first.lag_s;
    set_early_factor(window, first.early_factor);
    auto guess = guesses.begin();
    for (LaunchFit& fit : fit_launches(window.readings, model, window.range, shapes)) {
      fits.push_back({std::move(fit), (guess++)->weight});
    }
    guesses.erase(guesses.begin(), others);
  }
  time_run(fits, splits, window.start, window.end_s, run);
  run.length_m = run.curve.s_m.empty() ? 0.0 : run.curve.s_m.back();
  return run;
}

/// Before anything is known of the motion: gear changes are no spikes.
std::size_t drop_very_wild(LaunchWindow& window, LaunchModel model) {
  model.motion.jerk_density = std::max(model.motion.jerk_density, loose_jerk_density);
  return drop_wild_readings(window, model, 5.0, 12);
}

/// Once it is known how evenly the vehicle accelerates and how it gets away: a smaller spike shows, in the
/// launch too.
std::size_t drop_wild_of_known(LaunchWindow& window, LaunchModel model, const LaunchGuess& guess) {
  model.shape = guess.shape;
  model.motion.lag_s = guess.lag_s;
  set_early_factor(window, guess.early_factor);
  return drop_wild_readings(window, model, 6.0, 3);
}

std::vector<LaunchWindow> windows_of(const SpeedSeries& series, const std::vector<CountedStart>& starts,
                                     bool long_before) {
  std::vector<LaunchWindow> windows;
  windows.reserve(starts.size());
  for (const CountedStart& counted : starts) {
    windows.push_back(launch_window(series, counted.start, long_before));
  }
  return windows;
}

bool are_alike(const SpeedSeries& series, const std::vector<CountedStart>& starts,
               const std::vector<LaunchWindow>& windows) {
  const double noise_mps = std::hypot(series.receiver.white_sd_mps, series.receiver.slow_sd_mps);
  std::vector<Pull> pulls;
  pulls.reserve(starts.size());
  double share = 0.0;
  for (std::size_t i = 0; i < starts.size(); ++i) {
    pulls.push_back({starts[i].pull_mps2, windows[i].has_heading ? windows[i].heading_deg : unknown});
    share = std::max(share, std::numbers::sqrt2 * noise_mps / starts[i].gained_mps);  // of two readings
  }
  return alike(pulls, share);
}

/// Where the launches of one log were estimated together or, unlike what a rider expects, one by one.
std::vector<Note> how_timed(const SpeedSeries& series, std::size_t starts, bool same_shape) {
  const bool slow = series.receiver.rate_hz < shared_below_hz || series.source == SpeedSource::positions;
  if (same_shape && slow) {
    return {{"shared-launch",
             fmt::format("This log says little of any one launch: the launches of its {} starts, "
                         "which pulled alike, were estimated together.",
                         starts)}};
  }
  if (!same_shape) {
    return {{"own-launch",
             "The starts pulled too differently to be one rider's full throttle on one road: each launch was "
             "estimated by itself, and times from rest are less sure."}};
  }
  return {};
}

}  // namespace

TimedStarts time_starts(const SpeedSeries& series, const std::vector<CountedStart>& starts,
                        const std::vector<SplitSpec>& splits, bool hard) {
  TimedStarts out;
  std::vector<LaunchWindow> windows = windows_of(series, starts, !hard);
  const bool same_shape = hard && are_alike(series, starts, windows);
  if (hard && !same_shape) {
    windows = windows_of(series, starts, true);
  }
  if (hard && starts.size() > 1) {
    out.notes = how_timed(series, starts.size(), same_shape);
  }
  LaunchModel model = launch_model(series);
  for (LaunchWindow& window : windows) {
    if (!model.positions) {
      read_at_rest(window.readings, model, window.range);
    }
    out.wild_readings += drop_very_wild(window, model);
    average_late_readings(window);
  }
  const auto guesses = tune(model, windows, lags_to_try(series.receiver), same_shape);
  // Less often, each reading of the launch is news.
  for (std::size_t i = 0; i < windows.size() && series.receiver.rate_hz >= shared_below_hz; ++i) {
    out.wild_readings += drop_wild_of_known(windows[i], model, guesses[i].front());
  }
  for (std::size_t i = 0; i < starts.size(); ++i) {
    out.runs.push_back(timed(windows[i], model, guesses[i], starts[i].start, splits));
    out.runs.back().gentle = starts[i].gentle;
  }
  return out;
}

}  // namespace bothways
