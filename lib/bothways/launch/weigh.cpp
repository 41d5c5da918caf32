#include "bothways/launch/weigh.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <optional>

namespace bothways {

namespace {

constexpr double launch_span_s = 2.5;  // after the first moving reading
constexpr std::size_t least_launch_readings = 6;
constexpr double known_shape_factor = 2.0;  // of the jerk density: no launch is quite like the guess
constexpr double evidence_trust = 0.35;     // the guesses are crude: about a third of what the evidence says
constexpr double least_of_best = 0.02;      // less likely guesses are not even stood for
constexpr double least_guess_weight = 0.01;
constexpr double foot_step_s = 0.01;
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

/// From first movement to the first foot, as a shape expects it, s.
double foot_time_s(const LaunchShape& shape) {
  double t_s = 0.0;
  double v_mps = 0.0;
  double s_m = 0.0;
  while (s_m < rollout_m && t_s < 10.0) {
    const double a = shape.at(t_s + 0.5 * foot_step_s);
    s_m += (v_mps + 0.5 * a * foot_step_s) * foot_step_s;
    v_mps += a * foot_step_s;
    t_s += foot_step_s;
  }
  return t_s;
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
    for (const ShapeEvidence& evidence :
         shape_evidence(launch_only(window), model, window.range, shapes, grid, near_s)) {
      from->weight += evidence.log_evidence;
      from->begin_s.push_back(evidence.mean_t0_s + from->foot_s + from->lag_s);
      ++from;
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

/// What it costs in spread to let one of two guesses stand for both.
double cost_of_one(const LaunchGuess& a, const LaunchGuess& b) {
  double squares = 0.0;
  for (std::size_t i = 0; i < a.begin_s.size(); ++i) {
    squares += (a.begin_s[i] - b.begin_s[i]) * (a.begin_s[i] - b.begin_s[i]);
  }
  return squares * a.weight * b.weight / (a.weight + b.weight);
}

/// `most` guesses that keep much of the spread of all in where they put the first feet of the starts: of the
/// two whose loss costs the least the likelier stands for both [WARD63], until so many are left.
std::vector<LaunchGuess> representatives(std::vector<LaunchGuess> all, std::size_t most) {
  while (all.size() > most) {
    std::size_t one = 0;
    std::size_t other = 1;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < all.size(); ++i) {
      for (std::size_t k = i + 1; k < all.size(); ++k) {
        const double cost = cost_of_one(all[i], all[k]);
        if (cost < least) {
          least = cost;
          one = i;
          other = k;
        }
      }
    }
    if (all[one].likelihood < all[other].likelihood) {
      std::swap(one, other);
    }
    all[one].weight += all[other].weight;
    all.erase(all.begin() + static_cast<std::ptrdiff_t>(other));
  }
  return all;
}

void scale_to_one(std::vector<LaunchGuess>& guesses) {
  double total = 0.0;
  for (const LaunchGuess& guess : guesses) {
    total += guess.weight;
  }
  for (LaunchGuess& guess : guesses) {
    guess.weight /= total;
  }
}

}  // namespace

std::vector<LaunchGuess> all_guesses(const std::vector<double>& lags_s,
                                     const std::vector<LaunchShape>& shapes) {
  std::vector<LaunchGuess> all;
  for (const double lag_s : lags_s) {
    for (const double factor : {1.0, 6.0, 36.0}) {
      all.push_back(
          {LaunchShape{}, lag_s, factor, std::sqrt(2.0 * rollout_m / shapes.front().a_mps2.back())});
    }
    for (const LaunchShape& shape : shapes) {
      all.push_back({shape, lag_s, known_shape_factor, foot_time_s(shape)});
    }
  }
  return all;
}

std::vector<LaunchGuess> weigh(const LaunchModel& model, std::vector<LaunchGuess> guesses,
                               const std::vector<LaunchWindow*>& windows, std::size_t most,
                               const LaunchGrid& grid) {
  for (LaunchGuess& guess : guesses) {
    guess.weight = 0.0;  // log evidence at first
    guess.begin_s.clear();
  }
  for (LaunchWindow* window : windows) {
    add_evidence(model, *window, grid, guesses);
    drop_below(best_weight(guesses) - out_of_reach, guesses);
  }
  const double best = best_weight(guesses);
  for (LaunchGuess& guess : guesses) {
    guess.weight = guess.shape.prior * std::exp(evidence_trust * (guess.weight - best));
  }
  drop_below(least_of_best * best_weight(guesses), guesses);
  scale_to_one(guesses);
  for (LaunchGuess& guess : guesses) {
    guess.likelihood = guess.weight;
  }
  guesses = representatives(std::move(guesses), most);
  drop_below(std::min(least_guess_weight, best_weight(guesses)), guesses);
  scale_to_one(guesses);
  std::stable_sort(guesses.begin(), guesses.end(),
                   [](const LaunchGuess& a, const LaunchGuess& b) { return a.likelihood > b.likelihood; });
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
