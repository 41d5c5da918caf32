#pragma once

#include "bothways/speed/series.hpp"

#include <cstddef>
#include <vector>

namespace bothways {

/// Expected acceleration after first movement: straight lines between points `step_s` apart, constant after
/// the last.
struct LaunchShape {
  double step_s = 0.05;
  std::vector<double> a_mps2{1.0};  ///< at least one
  double sd_mps2 = 3.0;             ///< of a run's own first acceleration round it
  double prior = 1.0;               ///< weight before any reading, beside other shapes

  [[nodiscard]] double at(double tau_s) const;
  [[nodiscard]] double length_s() const { return step_s * static_cast<double>(a_mps2.size() - 1); }
};

/// One candidate model of how the vehicles of a log get away from rest, and of how their receiver smooths it.
struct LaunchHypothesis {
  LaunchShape shape;
  SpeedFilter filter;              ///< the receiver's
  double early_jerk_factor = 1.0;  ///< of the jerk density up to about 2 m/s
  double prior = 1.0;              ///< weight before any launch, beside other hypotheses
  double foot_s = 0.4;  ///< from first movement to the first foot: by its shape, else by full acceleration
};

/// A hypothesis and its posterior model weight.
struct WeightedHypothesis {
  LaunchHypothesis hypothesis;
  double weight = 1.0;      ///< sums to 1; with that of those it stands for
  double own_weight = 1.0;  ///< without
  std::size_t part = 0;     ///< of what the starts of a log share: hypotheses of one part are wrong alike
};

/// Full-throttle starts: without a shape at several roughnesses, and with each shape a vehicle may come to
/// its full acceleration in (at once, after a clutch that creeps, in an even rise, with wheels that spin);
/// for each candidate of the receiver's smoothing. Invented from how clutches, motors and riders work; the
/// readings choose among them.
/// @param full_mps2  the full acceleration, m/s^2, > 0
[[nodiscard]] std::vector<LaunchHypothesis> full_throttle_hypotheses(const std::vector<Smoothing>& smoothing,
                                                                     double full_mps2);

/// One shape of each kind among them, for a first look.
[[nodiscard]] std::vector<LaunchHypothesis> first_look_hypotheses(const std::vector<Smoothing>& smoothing,
                                                                  double full_mps2);

/// Gentle starts, and those of unknown kind: also vehicles that creep for a second or more before their
/// driver gives throttle, as cars do whose brake is released first.
[[nodiscard]] std::vector<LaunchHypothesis> gentle_hypotheses(const std::vector<Smoothing>& smoothing,
                                                              double full_mps2);

}  // namespace bothways
