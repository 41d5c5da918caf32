#pragma once

#include <algorithm>
#include <compare>

namespace bothways {

/// A filter that a receiver may have between what it measures and the speed it writes, eq. (1.1) and (1.2) of
/// docs/method.md: a low pass of first order; one with feedthrough, for an exponential moving average of the
/// readings of a slow log: a change shows in part at once, and with a share above 1 more than in full, for a
/// prediction from the last readings; or a critically damped tracker with the acceleration in its state,
/// which shows a steady pull without lag and changes of it late. A low pass may fade, its time constant
/// scheduled by the speed shown (gain scheduling): adaptive filters smooth most near rest.
struct SpeedFilter {
  double lag_s = 0.0;                ///< time constant tau, s, >= 0; below 1 ms there is no filter
  bool tracks_acceleration = false;  ///< it is the tracker
  double feedthrough = 0.0;          ///< share of the speed itself in what is written, >= 0; 0 for a tracker
  double fades_by_mps = 0.0;  ///< tau falls evenly from lag_s at rest to nothing at this speed shown, > 0,
                              ///< of a low pass only; 0: it does not

  auto operator<=>(const SpeedFilter&) const = default;

  /// Whether it is a moving average of readings, and whether a prediction from them.
  [[nodiscard]] bool averages() const { return feedthrough > 0.0 && feedthrough < 1.0; }
  [[nodiscard]] bool predicts() const { return feedthrough > 1.0; }

  [[nodiscard]] bool fades() const { return fades_by_mps > 0.0; }

  /// By how much it shows a steady pull late, s; below 0 early. One that fades: at speed.
  [[nodiscard]] double delay_s() const {
    return tracks_acceleration || fades() ? 0.0 : (1.0 - feedthrough) * lag_s;
  }

  /// The filter that it is while this speed is shown, m/s.
  [[nodiscard]] SpeedFilter at(double shown_mps) const {
    constexpr double least_lag_s = 0.01;  // still a filter, so that the state keeps its meaning
    SpeedFilter here = *this;
    if (fades()) {
      here.lag_s = std::max(lag_s * std::min(1.0, 1.0 - shown_mps / fades_by_mps), least_lag_s);
    }
    return here;
  }
};

}  // namespace bothways
