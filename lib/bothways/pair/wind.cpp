// docs/method.md, eq. (6.10): B = shrunk, the loss of acceleration = loss.
#include "bothways/pair/wind.hpp"

#include "bothways/numeric/mixture.hpp"
#include "bothways/numeric/square.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

namespace bothways {

namespace {

using numeric::square;

constexpr double hardly = 1e-12;  // a likelihood is never 0: the law has tails that nobody knows

/// A rider's wind and drag, before the log is asked.
struct Guess {
  double weight = 0.0;
  double wind_sd_mps = 0.0;
  double drag_per_m = 0.0;
  std::size_t kind = 0;  // of vehicle
};

/// What a vehicle may be of which nothing is said; power by mass from data sheets, from memory.
struct VehiclePrior {
  double share = 0.0;
  double drag_per_m = 0.0;
  double power_w_kg = 0.0;  // median of the spare power, rider and load included
  double log_sd = 0.0;      // of that
};

constexpr double prior_drag_log_sd = 0.33;
constexpr std::array vehicle_priors{
    VehiclePrior{0.75, 0.0014, 40.0, 0.9},   // moped 10, scooters 15 to 60, motorcycles to 200
    VehiclePrior{0.25, 0.0003, 50.0, 0.5}};  // cars 20 to 150

/// Of a kind of vehicle; data sheets and handbooks, from memory.
struct DragAndMass {
  double area_m2 = 0.0;  // CdA
  double area_log_sd = 0.0;
  double mass_kg = 0.0;  // of vehicle and rider
  double mass_log_sd = 0.0;
};

DragAndMass drag_and_mass_of(VehicleKind kind) {
  switch (kind) {
    case VehicleKind::moped:
      return {0.60, 0.2, 165.0, 0.15};
    case VehicleKind::scooter:
      return {0.60, 0.2, 200.0, 0.2};
    case VehicleKind::motorcycle:
      return {0.52, 0.25, 250.0, 0.25};
    case VehicleKind::kart:
      return {0.55, 0.25, 165.0, 0.15};
    case VehicleKind::car:
      return {0.70, 0.2, 1100.0, 0.3};
  }
  return {};
}

void add_lognormal(std::vector<Guess>& guesses, std::size_t kind, double share, double median,
                   double log_sd) {
  constexpr int reach = 4;  // half sds each way
  for (int k = -reach; k <= reach; ++k) {
    const double u = 0.5 * k;
    guesses.push_back({share * std::exp(-u * u / 2.0), 0.0, median * std::exp(log_sd * u), kind});
  }
}

/// Lognormal density, but for a factor that all kinds share.
double likelihood_of(const VehiclePrior& kind, double power_w_kg) {
  return std::exp(-square(std::log(power_w_kg / kind.power_w_kg) / kind.log_sd) / 2.0) / kind.log_sd;
}

std::vector<Guess> drag_prior(const std::optional<Conditions>& conditions, std::optional<double> power_w_kg) {
  std::vector<Guess> guesses;
  if (conditions && (conditions->total_mass_kg || conditions->kind)) {
    constexpr DragAndMass any{0.58, 0.2, 0.0, 0.0};
    constexpr double inertia = 1.05;
    const DragAndMass typical = conditions->kind ? drag_and_mass_of(*conditions->kind) : any;
    const auto air = air_density_of(*conditions);
    add_lognormal(guesses, 0, 1.0,
                  (air ? air->value : 1.2) * typical.area_m2 /
                      (2.0 * inertia * conditions->total_mass_kg.value_or(typical.mass_kg)),
                  conditions->total_mass_kg ? typical.area_log_sd
                                            : std::hypot(typical.area_log_sd, typical.mass_log_sd));
    return guesses;
  }
  for (std::size_t k = 0; k < vehicle_priors.size(); ++k) {
    const double likelihood = power_w_kg ? likelihood_of(vehicle_priors[k], *power_w_kg) : 1.0;
    add_lognormal(guesses, k, vehicle_priors[k].share * likelihood, vehicle_priors[k].drag_per_m,
                  prior_drag_log_sd);
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

bool is_known(double value_mps, double sd_mps) {
  constexpr double known_mps = 1.3;
  constexpr double known_share = 0.35;
  return sd_mps < std::max(known_mps, known_share * std::abs(value_mps));
}

/// Wind, cross wind and drag given the fit, guess by guess.
struct Posterior {
  std::vector<numeric::NormalPart> along;
  Moments loss;
  Moments drag;
  Moments wind_square;
  std::array<Moments, vehicle_priors.size()> along_by_kind;

  void add(const Guess& guess, double weight, double mean, double variance) {
    const double cross = square(guess.wind_sd_mps);  // mean square of the cross wind
    const double w2 = mean * mean + variance;
    const double w2_variance = 2.0 * variance * variance + 4.0 * mean * mean * variance;
    const double k = guess.drag_per_m;
    loss.add(weight, k * (w2 + cross / 2.0), square(k) * (w2_variance + cross * cross / 2.0));
    drag.add(weight, k, 0.0);
    wind_square.add(weight, w2 + cross, 0.0);
    along.push_back({weight, mean, variance});
    along_by_kind.at(guess.kind).add(weight, mean, variance);
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

  [[nodiscard]] bool kinds_agree() const {
    constexpr double hardly_possible = 0.12;
    return std::all_of(along_by_kind.begin(), along_by_kind.end(), [&](const Moments& kind) {
      return kind.weight < hardly_possible * loss.weight || is_known(kind.mean(), kind.sd());
    });
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
            gust_share * std::sqrt(wind_square.mean()),
            kinds_agree()};
  }
};

}  // namespace

Wind wind_of(std::span<const WindFit> fits, const std::optional<Conditions>& conditions,
             std::optional<double> spare_power_w_kg) {
  Posterior posterior;
  for (const Guess& wind : wind_prior(conditions)) {
    for (const Guess& drag : drag_prior(conditions, spare_power_w_kg)) {
      const Guess guess{wind.weight * drag.weight, wind.wind_sd_mps, drag.drag_per_m, drag.kind};
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
  return wind.kinds_agree && is_known(wind.along_mps.value, wind.along_mps.sd);
}

}  // namespace bothways
