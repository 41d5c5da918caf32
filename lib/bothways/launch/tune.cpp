#include "bothways/launch/tune.hpp"

#include "bothways/launch/shapes.hpp"
#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace bothways {

namespace {

constexpr double usual_jerk_density = 4.0;
constexpr std::size_t enough_launches = 6;  // tuning looks at no more
constexpr std::size_t few_launches = 3;
constexpr std::size_t enough_to_tune = 4;  // for noise and jerk
constexpr LaunchGrid evidence_grid{14, 7, true};
constexpr LaunchGrid rough_grid{14, 0, true};
constexpr LaunchGrid likeliest_grid{18, 0, false};
constexpr std::size_t most_guesses = 5;       // shared by many starts
constexpr std::size_t most_own_guesses = 14;  // one start says little of its shape

/// Highest of three neighbours' parabola in log-steps; the middle if it is no peak.
double peak_of(const std::array<double, 3>& y) {
  const double bend = y[0] - 2.0 * y[1] + y[2];
  return bend < -1e-9 ? std::clamp(0.5 * (y[0] - y[2]) / bend, -1.0, 1.0) : 0.0;
}

struct Tuned {
  const LaunchWindow* window;
  double t0_s;
};

double total_likelihood(const std::vector<Tuned>& launches, const LaunchModel& model, double white_factor) {
  double total = 0.0;
  for (const Tuned& launch : launches) {
    std::vector<Reading> readings = launch.window->readings;
    for (Reading& reading : readings) {
      reading.variance *= white_factor;
    }
    total += launch_log_likelihood(readings, model, launch.window->range, launch.t0_s);
  }
  return total;
}

/// Climbs a scale in factor-of-two steps to the most likely factor.
template <typename LogLikelihood>
double best_factor(LogLikelihood&& at, int lowest, int highest) {
  int here = 0;
  double value = at(0);
  const double up = highest > 0 ? at(1) : value - 1.0;
  const double down = lowest < 0 ? at(-1) : value - 1.0;
  if (up <= value && down <= value) {
    return std::exp2(peak_of({down, value, up}));
  }
  const int way = up > down ? 1 : -1;
  double before = value;
  double next = std::max(up, down);
  while (next > value && here + way > lowest && here + way < highest) {
    here += way;
    before = value;
    value = next;
    next = at(here + way);
  }
  if (next > value) {
    return std::exp2(here + way);
  }
  return std::exp2(here + way * peak_of({before, value, next}));
}

/// Acceleration once the clutch has taken hold: median over the launches of the smoothed value 0.5 s to 1 s
/// after.
double full_acceleration(const LaunchModel& model, const std::vector<LaunchWindow*>& windows) {
  std::vector<double> found;
  for (const LaunchWindow* window : windows) {
    const LaunchFit fit = fit_launch(window->readings, model, window->range, likeliest_grid);
    const LaunchNode& node = fit.nodes.front();
    const std::vector<double>& t_s = fit.times->t_s;
    double sum = 0.0;
    int count = 0;
    for (std::size_t k = node.first; k < t_s.size(); ++k) {
      const double tau = t_s[k] - node.t0_s;
      if (tau >= 0.4 && tau <= 1.2) {
        sum += node.mean[k - node.first](numeric::i_a);
        ++count;
      }
    }
    if (count > 0) {
      found.push_back(sum / count);
    }
  }
  return std::clamp(numeric::quantile(std::move(found), 0.5), 0.3, 15.0);
}

/// The same of one start, wherever it begins: the highest mean over half a second below 5 m/s.
double own_full_acceleration(const LaunchModel& model, const LaunchWindow& window) {
  const LaunchFit fit = fit_launch(window.readings, model, window.range, likeliest_grid);
  const LaunchNode& node = fit.nodes.front();
  const std::vector<double>& t_s = fit.times->t_s;
  double best = 0.0;
  std::size_t from = 0;
  for (std::size_t k = 0; k < node.mean.size() && node.mean[k](numeric::i_v) < 5.0; ++k) {
    while (t_s[node.first + k] - t_s[node.first + from] > 0.5) {
      ++from;
    }
    const double span = t_s[node.first + k] - t_s[node.first + from];
    if (span > 0.25) {
      best = std::max(best, (node.mean[k](numeric::i_v) - node.mean[from](numeric::i_v)) / span);
    }
  }
  return std::clamp(best, 0.3, 15.0);
}

void tune_jerk(LaunchModel& model, const std::vector<Tuned>& launches) {
  const double start = model.motion.jerk_density;
  const double factor = best_factor(
      [&](int step) {
        LaunchModel trial = model;
        trial.motion.jerk_density = start * std::exp2(step);
        const double off = std::log(trial.motion.jerk_density / usual_jerk_density);
        return total_likelihood(launches, trial, 1.0) - off * off / (2.0 * 2.0);
      },
      -4, 6);
  model.motion.jerk_density = std::clamp(start * factor, 0.05, 300.0);
}

double white_factor(const LaunchModel& model, const std::vector<Tuned>& launches) {
  return best_factor(
      [&](int step) {
        const double off = step * std::numbers::ln2;
        return total_likelihood(launches, model, std::exp2(step)) - off * off / (2.0 * 0.7 * 0.7);
      },
      -3, 3);
}

/// The best of a few guesses for a first look at some launches goes into the model.
LaunchGuess settle_roughly(LaunchModel& model, const std::vector<double>& lags_s,
                           const std::vector<LaunchWindow*>& windows) {
  const auto guesses = all_guesses(lags_s, plain_shapes(full_acceleration(model, windows)));
  LaunchGuess best = weigh(model, guesses, windows, 1, rough_grid).front();
  model.shape = best.shape;
  model.motion.lag_s = best.lag_s;
  return best;
}

/// The likely guesses for some launches; the best one goes into the model.
std::vector<LaunchGuess> settle(LaunchModel& model, const std::vector<double>& lags_s,
                                const std::vector<LaunchWindow*>& windows) {
  std::vector<LaunchGuess> launch =
      weigh(model, all_guesses(lags_s, full_shapes(full_acceleration(model, windows))), windows, most_guesses,
            evidence_grid);
  model.shape = launch.front().shape;
  model.motion.lag_s = launch.front().lag_s;
  return launch;
}

std::vector<Tuned> tuned_launches(const LaunchModel& model, const LaunchGuess& guess,
                                  const std::vector<LaunchWindow*>& windows) {
  std::vector<Tuned> launches;
  for (LaunchWindow* window : windows) {
    set_early_factor(*window, guess.early_factor);
    if (launches.size() < enough_to_tune) {
      launches.push_back({window, mean_launch_s(window->readings, model, window->range)});
    }
  }
  return launches;
}

}  // namespace

std::vector<std::vector<LaunchGuess>> tune(LaunchModel& model, std::vector<LaunchWindow>& windows,
                                           const std::vector<double>& lags_s, bool alike) {
  if (windows.empty()) {
    return {};
  }
  std::vector<LaunchWindow*> some;
  const std::size_t stride = std::max<std::size_t>(1, windows.size() / enough_launches);
  for (std::size_t i = 0; i < windows.size() && some.size() < enough_launches; i += stride) {
    some.push_back(&windows[i]);
  }
  // A first look with few launches settles the jerk density, on which the evidence depends.
  const std::vector<LaunchWindow*> few(
      some.begin(), some.begin() + static_cast<std::ptrdiff_t>(std::min(some.size(), few_launches)));
  tune_jerk(model, tuned_launches(model, settle_roughly(model, lags_s, few), few));
  const std::vector<LaunchGuess> launch = settle(model, lags_s, some);
  const std::vector<Tuned> launches = tuned_launches(model, launch.front(), some);
  tune_jerk(model, launches);
  const double white = white_factor(model, launches);
  for (LaunchWindow& window : windows) {
    for (Reading& reading : window.readings) {
      reading.variance *= white;
    }
  }
  std::vector<std::vector<LaunchGuess>> own;
  if (alike) {
    own.assign(windows.size(), launch);
    return own;
  }
  own.reserve(windows.size());
  for (LaunchWindow& window : windows) {
    // The lag is the receiver's: all starts have settled it.
    const auto guesses =
        all_guesses({model.motion.lag_s}, gentle_shapes(own_full_acceleration(model, window)));
    own.push_back(weigh(model, guesses, {&window}, most_own_guesses, evidence_grid));
  }
  return own;
}

}  // namespace bothways
