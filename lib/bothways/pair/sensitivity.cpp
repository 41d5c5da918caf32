// docs/method.md, eq. (6.6): k_b = seconds_per_mps2.
#include "bothways/pair/sensitivity.hpp"

#include "bothways/numeric/square.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

using numeric::square;

double middle(const std::vector<double>& x, std::size_t k) {
  return (x[k - 1] + x[k]) / 2.0;
}

SensitiveBand band_of(const MeanCourse& curve, std::size_t k) {
  const Course& mean = curve.mean;
  const double a = (mean.v_mps[k] - mean.v_mps[k - 1]) / (mean.t_s[k] - mean.t_s[k - 1]);
  return {middle(mean.v_mps, k), a, middle(curve.run[0].s_m, k), middle(curve.run[1].s_m, k), 0.0};
}

/// A gain of acceleration takes dv / a^2 off the time that the band takes.
std::vector<SensitiveBand> to_speed(const MeanCourse& curve, double from_mps, double to_mps) {
  std::vector<SensitiveBand> bands;
  const Course& mean = curve.mean;
  constexpr double same_speed_mps = 1e-6;
  if (to_mps > mean.v_mps.back() + same_speed_mps) {
    return bands;
  }
  for (std::size_t k = 1; k < mean.v_mps.size(); ++k) {
    const double lo = std::max(from_mps, mean.v_mps[k - 1]);
    const double hi = std::min(to_mps, mean.v_mps[k]);
    if (hi > lo) {
      bands.push_back(band_of(curve, k));
      bands.back().seconds_per_mps2 = (hi - lo) / square(bands.back().a_mps2);
    }
  }
  return bands;
}

/// A gain of acceleration for a while dt, t before the mark, brings the vehicle dt t further there, which
/// saves that by its speed.
std::vector<SensitiveBand> to_distance(const MeanCourse& curve, double to_m) {
  const Course& mean = curve.mean;
  std::vector<SensitiveBand> bands;
  if (to_m <= mean.s_m.front() || to_m > 1.25 * mean.s_m.back()) {
    return bands;
  }
  const double end_s = time_at(mean, to_m);
  constexpr double step_m = 0.5;
  const double v_mps =
      step_m / std::max(end_s - time_at(mean, std::max(mean.s_m.front() * 1.001, to_m - step_m)), 1e-3);
  for (std::size_t k = 1; k < mean.v_mps.size() && mean.t_s[k - 1] < end_s; ++k) {
    const double until_s = k + 1 < mean.v_mps.size() ? std::min(mean.t_s[k], end_s) : end_s;
    const double dt = until_s - mean.t_s[k - 1];
    bands.push_back(band_of(curve, k));
    bands.back().seconds_per_mps2 = dt * (end_s - (mean.t_s[k - 1] + until_s) / 2.0) / v_mps;
  }
  return bands;
}

}  // namespace

std::vector<SensitiveBand> sensitivity_of(const MeanCourse& curve, const SplitSpec& spec) {
  if (const auto* to = std::get_if<Speed>(&spec.to)) {
    return to_speed(curve, spec.from_rest() ? 0.0 : std::get<Speed>(spec.from).mps(), to->mps());
  }
  std::vector<SensitiveBand> bands = to_distance(curve, std::get<Length>(spec.to).m());
  if (spec.from_rest()) {
    return bands;
  }
  for (SensitiveBand& band : to_distance(curve, std::get<Length>(spec.from).m())) {
    band.seconds_per_mps2 *= -1.0;
    bands.push_back(band);
  }
  return bands;
}

}  // namespace bothways
