#include "bothways/run/weigh.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>

namespace bothways {

namespace {

constexpr double launch_span_s = 2.5;  // after the first moving reading
constexpr std::size_t least_launch_readings = 6;
constexpr double known_shape_factor = 2.0;  // of the jerk density: no launch is quite like the guess
constexpr double evidence_trust = 0.5;      // the guesses are crude: half of what the evidence says
constexpr double least_guess_weight = 0.01;
constexpr double out_of_reach = 25.0;  // in log evidence behind the best: 9 for good, and one odd start

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

bool same_but_shape(const LaunchGuess& a, const LaunchGuess& b) {
  return a.lag_s == b.lag_s && a.early_factor == b.early_factor;
}

/// Adds one window's log evidence to the weights.
void add_evidence(LaunchModel model, LaunchWindow& window, const LaunchGrid& grid,
                  std::vector<LaunchGuess>& guesses) {
  std::optional<double> near_s;
  for (auto from = guesses.begin(); from != guesses.end();) {
    const auto to = std::find_if(from, guesses.end(),
                                 [&](const LaunchGuess& guess) { return !same_but_shape(guess, *from); });
    std::vector<LaunchShape> shapes;
    std::transform(from, to, std::back_inserter(shapes),
                   [](const LaunchGuess& guess) { return guess.shape; });
    model.motion.lag_s = from->lag_s;
    set_early_factor(window, from->early_factor);
    for (const double log_evidence :
         shape_evidence(launch_only(window), model, window.range, shapes, grid, near_s)) {
      (from++)->weight += log_evidence;
    }
  }
}

double best_weight(const std::vector<LaunchGuess>& guesses) {
  double best = guesses.front().weight;
  for (const LaunchGuess& guess : guesses) {
    best = std::max(best, guess.weight);
  }
  return best;
}

void drop_below(double least, std::vector<LaunchGuess>& guesses) {
  guesses.erase(std::remove_if(guesses.begin(), guesses.end(),
                               [&](const LaunchGuess& guess) { return guess.weight < least; }),
                guesses.end());
}

}  // namespace

std::vector<LaunchGuess> all_guesses(const std::vector<double>& lags_s,
                                     const std::vector<LaunchShape>& shapes) {
  std::vector<LaunchGuess> all;
  for (const double lag_s : lags_s) {
    for (const double factor : {1.0, 6.0, 36.0}) {
      all.push_back({LaunchShape{}, lag_s, factor});
    }
    for (const LaunchShape& shape : shapes) {
      all.push_back({shape, lag_s, known_shape_factor});
    }
  }
  return all;
}

std::vector<LaunchGuess> weigh(const LaunchModel& model, std::vector<LaunchGuess> guesses,
                               const std::vector<LaunchWindow*>& windows, std::size_t most,
                               const LaunchGrid& grid) {
  for (LaunchGuess& guess : guesses) {
    guess.weight = 0.0;  // log evidence at first
  }
  for (LaunchWindow* window : windows) {
    add_evidence(model, *window, grid, guesses);
    drop_below(best_weight(guesses) - out_of_reach, guesses);
  }
  std::stable_sort(guesses.begin(), guesses.end(),
                   [](const LaunchGuess& a, const LaunchGuess& b) { return a.weight > b.weight; });
  guesses.resize(std::min(guesses.size(), most));
  const double best = guesses.front().weight;
  double total = 0.0;
  for (LaunchGuess& guess : guesses) {
    guess.weight = std::exp(evidence_trust * (guess.weight - best));
    total += guess.weight;
  }
  drop_below(least_guess_weight * total, guesses);
  double kept = 0.0;
  for (const LaunchGuess& guess : guesses) {
    kept += guess.weight;
  }
  for (LaunchGuess& guess : guesses) {
    guess.weight /= kept;
  }
  return guesses;
}

void set_early_factor(LaunchWindow& window, double factor) {
  for (Reading& reading : window.readings) {
    if (reading.t_s <= window.range.early_end_s + 1e-9) {
      reading.jerk_factor = factor;
    }
  }
}

}  // namespace bothways
