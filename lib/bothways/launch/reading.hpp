#pragma once

namespace bothways {

/// One reading of a launch window, as the model sees it.
struct Reading {
  enum class Kind {
    speed,     ///< a speed
    censored,  ///< exactly 0 because the receiver has a dead band: left-censored, the speed was below it
    position,  ///< travel along the road, from the standing place
    excluded   ///< an outlier: it keeps its time and has no say
  };
  double t_s = 0.0;       ///< time in the window
  double z = 0.0;         ///< m/s or m
  double variance = 1.0;  ///< of its white noise, (m/s)^2 or m^2, > 0
  Kind kind = Kind::speed;
};

/// Launches between these instants are considered.
struct LaunchRange {
  double earliest_s = 0.0;
  double latest_s = 0.0;     ///< the first reading that is surely moving
  double early_end_s = 0.0;  ///< the launch is over: about 2 m/s
};

}  // namespace bothways
