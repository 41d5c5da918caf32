// docs/method.md, eq. (6.10): B = shrunk, the loss of acceleration = loss.
#include "bothways/pair/wind.hpp"

#include "bothways/numeric/mixture.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace bothways {

namespace {

constexpr double hardly = 1e-12;  // a likelihood is never 0: the law has tails that nobody knows

double square(double x) {
  return x * x;
}

/// A rider's wind and drag, before the log is asked.
struct Guess {
  double weight = 0.0;
  double wind_sd_mps = 0.0;
  double drag_per_m = 0.0;
};

void add_lognormal(std::vector<Guess>& guesses, double share, double median, double log_sd) {
  constexpr int reach = 4;  // half sds each way
  for (int k = -reach; k <= reach; ++k) {
    const double u = 0.5 * k;
    guesses.push_back({share * std::exp(-u * u / 2.0), 0.0, median * std::exp(log_sd * u)});
  }
}

std::vector<Guess> drag_prior(const std::optional<Conditions>& conditions) {
  std::vector<Guess> guesses;
  if (conditions && conditions->total_mass_kg) {
    constexpr double usual_area_m2 = 0.58;
    constexpr double inertia = 1.05;
    const auto air = air_density_of(*conditions);
    add_lognormal(guesses, 1.0,
                  (air ? air->value : 1.2) * usual_area_m2 / (2.0 * inertia * *conditions->total_mass_kg),
                  0.2);
  } else {
    add_lognormal(guesses, 0.75, 0.0014, 0.33);
    add_lognormal(guesses, 0.25, 0.0003, 0.33);
  }
  return guesses;
}

std::vector<Guess> wind_prior(const std::optional<Conditions>& conditions) {
  if (conditions && conditions->wind_mps) {
    std::vector<Guess> guesses;
    for (const double left : {0.5, 0.7, 0.9}) {  // of the wind at 10 m
      for (const double speed :
           {conditions->wind_mps->lo, conditions->wind_mps->middle(), conditions->wind_mps->hi}) {
        guesses.push_back({1.0, std::max(0.3, left * speed / std::sqrt(2.0)), 0.0});
      }
    }
    return guesses;
  }
  return {{0.3, 0.7, 0.0}, {0.4, 1.8, 0.0}, {0.3, 3.2, 0.0}};
}

/// Mean and variance of a quantity over the posterior.
struct Moments {
  double weight = 0.0;
  double sum = 0.0;
  double squares = 0.0;
  void add(double w, double mean, double variance) {
    weight += w;
    sum += w * mean;
    squares += w * (variance + mean * mean);
  }
  [[nodiscard]] double mean() const { return sum / weight; }
  [[nodiscard]] double sd() const { return std::sqrt(std::max(0.0, squares / weight - square(mean()))); }
};

/// Wind, cross wind and drag given the fit, guess by guess.
struct Posterior {
  std::vector<numeric::NormalPart> along;
  Moments loss;
  Moments drag;
  Moments wind_square;

  void add(const Guess& guess, double weight, double mean, double variance) {
    const double cross = square(guess.wind_sd_mps);  // mean square of the cross wind
    const double w2 = mean * mean + variance;
    const double w2_variance = 2.0 * variance * variance + 4.0 * mean * mean * variance;
    const double k = guess.drag_per_m;
    loss.add(weight, k * (w2 + cross / 2.0), square(k) * (w2_variance + cross * cross / 2.0));
    drag.add(weight, k, 0.0);
    wind_square.add(weight, w2 + cross, 0.0);
    along.push_back({weight, mean, variance});
  }

  void add(const Guess& guess, const WindFit& fit) {
    const double prior = square(guess.wind_sd_mps);
    const double total = square(fit.sd_per_s) + square(guess.drag_per_m) * prior;
    const double shrunk = square(guess.drag_per_m) * prior / total;
    const double likelihood =
        (std::exp(-square(fit.kappa_per_s) / (2.0 * total)) + hardly) * fit.sd_per_s / std::sqrt(total);
    add(guess, guess.weight * fit.weight * likelihood, shrunk * fit.kappa_per_s / guess.drag_per_m,
        prior * (1.0 - shrunk));
  }

  [[nodiscard]] Wind summary() {
    for (auto& part : along) {
      part.weight /= loss.weight;
    }
    const auto summary = numeric::summarise(along);
    constexpr double gust_share = 0.2;  // of the wind; common practice, no source
    return {{summary.mean, summary.sd, summary.lo95, summary.hi95},
            loss.mean(),
            loss.sd(),
            drag.mean(),
            gust_share * std::sqrt(wind_square.mean())};
  }
};

}  // namespace

Wind wind_of(std::span<const WindFit> fits, const std::optional<Conditions>& conditions) {
  Posterior posterior;
  for (const Guess& wind : wind_prior(conditions)) {
    for (const Guess& drag : drag_prior(conditions)) {
      const Guess guess{wind.weight * drag.weight, wind.wind_sd_mps, drag.drag_per_m};
      if (fits.empty()) {
        posterior.add(guess, guess.weight, 0.0, square(guess.wind_sd_mps));
      }
      for (const WindFit& fit : fits) {
        posterior.add(guess, fit);
      }
    }
  }
  return posterior.summary();
}

bool is_told(const Wind& wind) {
  constexpr double known_mps = 1.3;
  constexpr double known_share = 0.35;
  return wind.along_mps.sd < std::max(known_mps, known_share * std::abs(wind.along_mps.value));
}

}  // namespace bothways
