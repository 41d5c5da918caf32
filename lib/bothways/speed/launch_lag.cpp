// docs/method.md, eq. (1.9): D(z) = missing_m, L = lag_s, X = excess_s, u = fades_by_mps.
#include "bothways/speed/launch_lag.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>

namespace bothways {

namespace {

constexpr std::array<double, 4> fades_mps{1.5, 2.5, 4.0, 7.0};
constexpr std::size_t least_departures = 5;
constexpr double median_factor = 1.25;       // sd of a median over that of a mean
constexpr double mean_size_factor = 1.2533;  // sd of a normal law over the mean of its size
constexpr double usual_sd_s = 0.3;           // of the excess in one departure, with the weight of so many
constexpr double usual_departures = 4.0;
// The odds for a filter that fades, by how many sd the excess is above 0: 1 in 25 where it is 0, and the
// likelihood of 0 (common practice, no source; decision 0057).
constexpr double odds_at_nothing = 0.04;
constexpr double most_sds = 10.0;
constexpr double most_share = 0.8;
constexpr double least_sds = 1.8;
constexpr double least_excess_s = 0.12;
// Steps finer than which nothing is known; so the last decimals of the places, which formats write or leave,
// seldom move a time.
constexpr double excess_step_s = 0.01;
constexpr double sds_step = 0.1;

double rounded_to(double value, double step) {
  return step * std::round(value / step);
}

/// The integral over the speed, up to a level, of a lag of 1 s at rest that falls evenly.
double lost_m(double level_mps, double fades_by_mps) {
  const double z = std::min(level_mps, fades_by_mps);
  return z - 0.5 * z * z / fades_by_mps;
}

double weight_at(double level_mps) {
  return 1.0 / (2.0 + level_mps);  // places wander on
}

struct LaunchLagFit {
  double lag_s = 0.0;
  double excess_s = 0.0;
};

/// Least squares.
LaunchLagFit fitted(const Departure& d, double fades_by_mps) {
  double zz = 0.0;
  double zg = 0.0;
  double gg = 0.0;
  double zd = 0.0;
  double gd = 0.0;
  for (std::size_t k = 0; k < d.levels; ++k) {
    const double z = departure_levels_mps[k];
    const double g = lost_m(z, fades_by_mps);
    const double w = weight_at(z);
    zz += w * z * z;
    zg += w * z * g;
    gg += w * g * g;
    zd += w * z * d.missing_m[k];
    gd += w * g * d.missing_m[k];
  }
  const double det = zz * gg - zg * zg;
  return {(gg * zd - zg * gd) / det, (zz * gd - zg * zd) / det};
}

double squares_left(const Departure& d, const LaunchLagFit& fit, double fades_by_mps) {
  double sum = 0.0;
  for (std::size_t k = 0; k < d.levels; ++k) {
    const double z = departure_levels_mps[k];
    const double off = d.missing_m[k] - fit.lag_s * z - fit.excess_s * lost_m(z, fades_by_mps);
    sum += weight_at(z) * off * off;
  }
  return sum;
}

/// Level by level, as far as half of them go.
Departure median_departure(const std::vector<Departure>& all) {
  Departure out;
  for (; out.levels < out.missing_m.size(); ++out.levels) {
    std::vector<double> at;
    for (const Departure& d : all) {
      if (d.levels > out.levels) {
        at.push_back(d.missing_m[out.levels]);
      }
    }
    if (at.size() * 2 < all.size()) {
      break;
    }
    out.missing_m[out.levels] = numeric::quantile(std::move(at), 0.5);
  }
  return out;
}

double likeliest_fade_mps(const Departure& middle) {
  double best_mps = fades_mps.front();
  double least = std::numeric_limits<double>::infinity();
  for (const double fade_mps : fades_mps) {
    const double left = squares_left(middle, fitted(middle, fade_mps), fade_mps);
    if (left < least) {
      least = left;
      best_mps = fade_mps;
    }
  }
  return best_mps;
}

/// The sd of a few values round 0, which alone may be small by chance.
double sd_of_few(const std::vector<double>& off) {
  const auto n = static_cast<double>(off.size());
  double sum = 0.0;
  for (const double x : off) {
    sum += std::abs(x);
  }
  const double own = 0.5 * (numeric::robust_sd(off) + mean_size_factor * sum / n);
  return std::sqrt((n * own * own + usual_departures * usual_sd_s * usual_sd_s) / (n + usual_departures));
}

}  // namespace

LaunchLag estimate_launch_lag(const std::vector<Departure>& departures) {
  LaunchLag out;
  if (departures.size() < least_departures) {
    return out;
  }
  out.fades_by_mps = likeliest_fade_mps(median_departure(departures));
  std::vector<double> excess_s;
  excess_s.reserve(departures.size());
  for (const Departure& d : departures) {
    excess_s.push_back(fitted(d, out.fades_by_mps).excess_s);
  }
  out.excess_s = numeric::quantile(excess_s, 0.5);
  for (double& x : excess_s) {
    x -= out.excess_s;
  }
  out.sd_s = median_factor * sd_of_few(excess_s) / std::sqrt(static_cast<double>(departures.size()));
  return out;
}

std::vector<Smoothing> with_launch_lag(std::vector<Smoothing> others, const LaunchLag& lag) {
  if (!(lag.sd_s > 0.0) || lag.excess_s < std::max(least_excess_s, least_sds * lag.sd_s)) {
    return others;
  }
  const double sds = std::min(rounded_to(lag.excess_s / lag.sd_s, sds_step), most_sds);
  const double odds = odds_at_nothing * std::exp(0.5 * sds * sds);
  const double share = std::min(odds / (1.0 + odds), most_share);
  for (Smoothing& s : others) {
    s.weight *= 1.0 - share;
  }
  others.push_back(
      {{.lag_s = rounded_to(lag.excess_s, excess_step_s), .fades_by_mps = lag.fades_by_mps}, share});
  return others;
}

}  // namespace bothways
