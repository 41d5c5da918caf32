#pragma once

#include "bothways/speed/series.hpp"

#include <vector>

namespace bothways {

/// Slower logs are mostly of phones, whose apps may change the speed that they show, Hz.
inline constexpr double phone_speeds_below_hz = 4.0;

/// Beyond it, speeds that come late are not taken for smoothed by all of that, s.
inline constexpr double longest_smoothing_s = 0.9;

/// Filters that show a steady pull as late, or as early, as the speeds of a log come against its places: a
/// low pass; below 4 Hz also an app's mean over the last readings, or one that predicts from them. Each with
/// its probability before any brake is looked at; what is missing from 1 is for a delay, and for smoothing of
/// another length (docs/method.md, "The receiver"). None where no lag is known beyond its noise.
[[nodiscard]] std::vector<Smoothing> filters_of_known_lag(const Receiver& receiver);

}  // namespace bothways
