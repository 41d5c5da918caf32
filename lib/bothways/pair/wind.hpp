#pragma once

#include "bothways/core/conditions.hpp"
#include "bothways/core/estimate.hpp"
#include "bothways/run/run.hpp"

#include <optional>
#include <span>
#include <vector>

namespace bothways {

/// One pair, as the wind is read from it.
struct WindEvidence {
  const Run* out = nullptr;
  const Run* back = nullptr;
  bool same_way = true;  ///< its first run goes the way of the first pair's first run
};

/// What a group of pairs of one day says of kappa = k w: the drag a speed k (1/m), times the wind against
/// the first run's way w (m/s), eq. (6.9), on a road of one roughness.
struct WindFit {
  double weight = 0.0;  ///< posterior of the roughness; the sum over a fit is 1
  double kappa_per_s = 0.0;
  double sd_per_s = 0.0;
};

/// Generalised least squares over the differences of the two directions' accelerations, band by band; the
/// slope along the road, the scatter of the drive and gusts are in its covariance. The sd of the slope about
/// its mean is one of four, 0.08 to 0.9 %, weighed by their likelihoods.
/// @return empty where no pair has two bands of speed.
[[nodiscard]] std::vector<WindFit> fit_wind(std::span<const WindEvidence> pairs);

/// What the vehicle's engine has to spare, by mass: the upper quartile of the mean acceleration of out and
/// back times the speed, over the bands of all pairs, W/kg. It tells a small scooter from a car.
/// @return nothing where no pair has two bands of speed
[[nodiscard]] std::optional<double> spare_power_w_kg(std::span<const WindEvidence> pairs);

/// Wind and what its square takes from the acceleration, both ways alike.
struct Wind {
  Estimate along_mps;                 ///< against the first run's way; negative: with it
  double acceleration_mps2 = 0.0;     ///< k (w^2 + c^2 / 2), mean
  double acceleration_sd_mps2 = 0.0;  ///< its sd
  double drag_per_m = 0.0;            ///< k, mean
  double gust_mps = 0.0;              ///< usual sd of gusts in such wind
  bool kinds_agree = true;            ///< known as well for each kind of vehicle that this one may be
};

/// Posterior of wind, cross wind and drag from the prior and the fit, eq. (6.10).
///
/// Prior: each component of the wind normal with sd 0.7, 1.8 or 3.2 m/s at the height of a rider (as the
/// Rayleigh law of wind speeds [JUSTUS78]; the scales are ours), or from `wind` of the conditions, taken as a
/// station's at 10 m, of which half to nine tenths are left at 1 m; k from the kind of vehicle and the mass
/// as far as the conditions have them, else that of a two-wheeler or kart (0.0014 1/m within a third [CFR86])
/// in three cases of four, or of a car (0.0003 1/m), each as likely as the spare power makes it.
[[nodiscard]] Wind wind_of(std::span<const WindFit> fits, const std::optional<Conditions>& conditions,
                           std::optional<double> spare_power_w_kg = std::nullopt);

/// True where the log tells the wind along the road well enough to say it.
[[nodiscard]] bool is_told(const Wind& wind);

}  // namespace bothways
