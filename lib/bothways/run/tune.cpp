#include "bothways/run/tune.hpp"

#include "bothways/numeric/robust.hpp"
#include "bothways/run/shapes.hpp"

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
constexpr LaunchGrid evidence_grid{14, 7, false};
constexpr double launch_span_s = 2.5;  // after the first moving reading
constexpr std::size_t least_launch_readings = 6;
constexpr double known_shape_factor = 2.0;    // of the jerk density: no launch is quite like the guess
constexpr double evidence_trust = 0.5;        // the guesses are crude: half of what the evidence says
constexpr std::size_t most_guesses = 5;       // shared by many starts
constexpr std::size_t most_own_guesses = 30;  // one start says little of its shape
constexpr double least_guess_weight = 0.01;

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

/// Readings that tell launches apart: later ones say the same under every guess.
std::vector<Reading> launch_only(const LaunchWindow& window) {
  std::vector<Reading> out;
  for (const Reading& reading : window.readings) {
    if (reading.t_s <= window.range.latest_s + launch_span_s || out.size() < least_launch_readings) {
      out.push_back(reading);
    }
  }
  return out;
}

/// Adds the evidence of all windows for some shapes under one lag and roughness.
void add_guesses(LaunchModel model, double lag_s, double factor, const std::vector<LaunchShape>& shapes,
                 const std::vector<LaunchWindow*>& windows, std::vector<LaunchGuess>& all) {
  model.motion.lag_s = lag_s;
  std::vector<double> sum(shapes.size(), 0.0);
  for (LaunchWindow* window : windows) {
    set_early_factor(*window, factor);
    const std::vector<double> one =
        shape_evidence(launch_only(*window), model, window->range, shapes, evidence_grid);
    for (std::size_t i = 0; i < shapes.size(); ++i) {
      sum[i] += one[i];
    }
  }
  for (std::size_t i = 0; i < shapes.size(); ++i) {
    all.push_back({shapes[i], lag_s, factor, sum[i]});
  }
}

/// Guesses weighed by how likely all the starts are under each; the likely ones, best first.
std::vector<LaunchGuess> weigh(const LaunchModel& model, const std::vector<double>& lags_s,
                               const std::vector<LaunchShape>& shapes,
                               const std::vector<LaunchWindow*>& windows, std::size_t most) {
  std::vector<LaunchGuess> all;  // their weights are log evidence at first
  for (const double lag_s : lags_s) {
    for (const double factor : {1.0, 6.0, 36.0}) {
      add_guesses(model, lag_s, factor, {LaunchShape{}}, windows, all);
    }
    add_guesses(model, lag_s, known_shape_factor, shapes, windows, all);
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const LaunchGuess& a, const LaunchGuess& b) { return a.weight > b.weight; });
  all.resize(std::min(all.size(), most));
  const double best = all.front().weight;
  double total = 0.0;
  for (LaunchGuess& guess : all) {
    guess.weight = std::exp(evidence_trust * (guess.weight - best));
    total += guess.weight;
  }
  double kept = 0.0;
  while (all.back().weight < least_guess_weight * total) {
    all.pop_back();
  }
  for (const LaunchGuess& guess : all) {
    kept += guess.weight;
  }
  for (LaunchGuess& guess : all) {
    guess.weight /= kept;
  }
  return all;
}

const LaunchNode& likeliest(const LaunchFit& fit) {
  return *std::max_element(fit.nodes.begin(), fit.nodes.end(),
                           [](const LaunchNode& a, const LaunchNode& b) { return a.weight < b.weight; });
}

/// Acceleration once the clutch has taken hold: median over the launches of the smoothed value 0.5 s to 1 s
/// after.
double full_acceleration(const LaunchModel& model, const std::vector<LaunchWindow*>& windows) {
  std::vector<double> found;
  for (const LaunchWindow* window : windows) {
    const LaunchFit fit = fit_launch(window->readings, model, window->range, {18, 0, true});
    const LaunchNode& node = likeliest(fit);
    double sum = 0.0;
    int count = 0;
    for (std::size_t k = node.first; k < fit.t_s.size(); ++k) {
      const double tau = fit.t_s[k] - node.t0_s;
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
  const LaunchFit fit = fit_launch(window.readings, model, window.range, {18, 0, true});
  const LaunchNode& node = likeliest(fit);
  double best = 0.0;
  std::size_t from = 0;
  for (std::size_t k = 0; k < node.mean.size() && node.mean[k](numeric::i_v) < 5.0; ++k) {
    while (fit.t_s[node.first + k] - fit.t_s[node.first + from] > 0.5) {
      ++from;
    }
    const double span = fit.t_s[node.first + k] - fit.t_s[node.first + from];
    if (span > 0.25) {
      best = std::max(best, (node.mean[k](numeric::i_v) - node.mean[from](numeric::i_v)) / span);
    }
  }
  return std::clamp(best, 0.3, 15.0);
}

double mean_launch_s(const LaunchWindow& window, const LaunchModel& model) {
  double t0 = 0.0;
  for (const LaunchNode& node : fit_launch(window.readings, model, window.range).nodes) {
    t0 += node.weight * node.t0_s;
  }
  return t0;
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

/// The likely guesses for some launches; the best one goes into the model.
std::vector<LaunchGuess> settle(LaunchModel& model, const std::vector<double>& lags_s,
                                const std::vector<LaunchWindow*>& windows) {
  std::vector<LaunchGuess> launch =
      weigh(model, lags_s, full_shapes(full_acceleration(model, windows)), windows, most_guesses);
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
      launches.push_back({window, mean_launch_s(*window, model)});
    }
  }
  return launches;
}

}  // namespace

void set_early_factor(LaunchWindow& window, double factor) {
  for (Reading& reading : window.readings) {
    if (reading.t_s <= window.range.early_end_s + 1e-9) {
      reading.jerk_factor = factor;
    }
  }
}

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
  std::vector<LaunchGuess> launch = settle(model, lags_s, few);
  tune_jerk(model, tuned_launches(model, launch.front(), few));
  launch = settle(model, lags_s, some);
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
    own.push_back(weigh(model, {model.motion.lag_s}, gentle_shapes(own_full_acceleration(model, window)),
                        {&window}, most_own_guesses));
  }
  return own;
}

}  // namespace bothways
