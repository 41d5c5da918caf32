#pragma once

#include "support/simulate/random.hpp"

/// Every range that the population is drawn from, with its reason. They are wider than we think likely: what
/// holds over all of them does not hang on our having guessed a receiver or a rider right. "Logs beside a
/// reference": our own evaluation of open logs of cars, phones and loggers against wheel speeds or inertial
/// systems. None of these figures is known to the library.
namespace bothways::population {

struct Range {
  double lo = 0.0;
  double hi = 0.0;
};

[[nodiscard]] double even(sim::Random& random, const Range& range);
/// Evenly by ratio: a tenth to one as often as one to ten. range.lo > 0.
[[nodiscard]] double log_even(sim::Random& random, const Range& range);
[[nodiscard]] bool chance(sim::Random& random, double probability);

namespace range {

// Noise of speed, one axis, in steady motion, m/s. Data sheets: 0.05 in half of all cases; raw Doppler beside
// a reference 0.08 in a city; a car's own receiver 0.14; phones 0.13 to 0.39.
inline constexpr Range logger_noise_mps{0.02, 0.20};
inline constexpr Range slow_logger_noise_mps{0.03, 0.25};
inline constexpr Range phone_noise_mps{0.08, 0.45};
// Noise at rest over that in motion. Logs beside a reference: 1/4 to 1/12, or nothing but zeros.
inline constexpr Range rest_ratio{0.02, 1.0};
// Speed within which the noise comes up to that of motion, m/s. No source.
inline constexpr Range rest_speed_mps{0.2, 3.0};
// Growth of noise when the acceleration is well above 1 m/s^2. Logs beside a reference: 0.75 to 2.5.
inline constexpr Range growth{1.0, 2.5};
// Share of readings beyond four sd. Logs beside a reference: 1.4 to 9 %. Such readings come from a law
// tail_scale times as wide; of those 0.66 lie beyond four sd.
inline constexpr Range tails{0.01, 0.09};
inline constexpr Range tail_scale{6.0, 12.0};
inline constexpr double tail_beyond = 0.66;
// Mean length of a burst of them, s (one reading at least). No source.
inline constexpr Range burst_s{0.1, 3.0};
// Correlation of errors a second apart. Logs beside a reference: 0 to 0.52; raw observables up to 0.9.
inline constexpr Range correlation{0.0, 0.9};
// Share of the quick noise that enters before the receiver's own filter, and is coloured by it. No source.
inline constexpr Range before_filter{0.0, 1.0};

// DeviceSmoothing inside the receiver, s of delay it causes, by any of three laws. Logs beside a reference: 0
// to 0.2 by one phone, 0.2 to 0.7 (flat) by others; timing gates: as 0.25 of the time constant of a sprint
// [HOPPE18].
inline constexpr Range smoothing_s{0.0, 0.4};
inline constexpr double no_smoothing = 0.25;  // share of receivers that do not smooth
inline constexpr double speed_alone = 0.25;   // share of the others whose positions are not smoothed
// Stamps against the truth, s. Logs beside a reference: phones -0.45 to -0.15, a car's receiver +1.05.
inline constexpr Range stamp_delay_s{-0.5, 1.0};
// Speed behind positions, s: tracking loops, about 0.15 [VELCALC].
inline constexpr Range speed_delay_s{0.0, 0.3};
inline constexpr double no_speed_delay = 0.5;

// Hold: a stop is written as exact zeros, until a reading is above this [UBXINT]; it begins at this share of
// it, after a while. Phones beside a reference: 80 to 98 % of readings at rest are 0.
inline constexpr Range hold_mps{0.1, 1.0};
inline constexpr Range hold_entry{0.4, 1.0};
inline constexpr Range hold_settle_s{0.0, 2.0};
inline constexpr double logger_holds = 0.35;
inline constexpr double phone_holds = 0.85;
// Positions frozen while held, and how long they take to catch up, s. Logs beside a reference: all phones;
// the first 2 to 4 fixes off by 0.5 to 1.7 m.
inline constexpr double phone_freezes = 0.9;
inline constexpr double logger_freezes = 0.3;
inline constexpr Range catch_up_s{1.0, 4.0};

// Quick noise of positions, one axis, m: third differences of phones are tiny; loggers smooth by carrier
// phase.
inline constexpr Range phone_position_m{0.001, 0.05};
inline constexpr Range logger_position_m{0.002, 0.05};
inline constexpr Range raw_position_m{0.05, 0.5};  // positions from code alone
inline constexpr double raw_positions = 0.15;
// Smooth wandering of positions: sd of its velocity, m/s, and its time, s. Phones beside a wheel: steps of a
// second off by 0.3 to 1.4 m, travel by 1 to 5 m within ten seconds.
inline constexpr Range phone_wander_mps{0.15, 1.2};
inline constexpr Range logger_wander_mps{0.005, 0.15};
inline constexpr Range wander_time_s{1.0, 4.0};
inline constexpr double wander_leak_s = 60.0;
// A launch throws phones off by some metres, one kind ahead, the other behind: sd between phones of the mean,
// and of one launch over that of the wandering, m/s. Phones beside a wheel: -0.5 and +0.6 in the first
// second.
inline constexpr double phone_kick_mps = 0.4;
inline constexpr Range kick_ratio{0.3, 1.5};

// Stamps: sd against the instant of the reading, s. No source.
inline constexpr Range logger_jitter_s{0.0005, 0.015};
inline constexpr Range phone_jitter_s{0.002, 0.08};
inline constexpr double no_jitter = 0.4;
inline constexpr double whole_seconds = 0.35;  // share of phones' logs with times in whole seconds
// A phone's own accuracy, times its true noise; a share of the phones gives it. No source.
inline constexpr Range accuracy_factor{0.5, 3.0};
inline constexpr double gives_accuracy = 0.4;

// Wind, m/s, from any side; gusts as a share of it; their correlation time, s. Type approval stops at 3 to 5.
inline constexpr Range wind_mps{0.0, 6.0};
inline constexpr Range gust_share{0.05, 0.35};
inline constexpr Range gust_time_s{3.0, 30.0};
// Wind of a later hour of the same day: sd of its change, m/s, and as a share of the wind. No source.
inline constexpr double later_wind_mps = 0.3;
inline constexpr double later_wind_share = 0.15;
// Slope: of the whole road; and along it, sd of its change and the length over which it changes, m. Rules ask
// for 0.5 to 1 %; a dip of 1 % in 100 m is an ordinary road.
inline constexpr Range slope{-0.025, 0.025};
inline constexpr Range slope_sd{0.0005, 0.010};
inline constexpr Range slope_length_m{60.0, 400.0};
// Air, kg/m^3: a cold morning by the sea to a hot day at 1000 m.
inline constexpr Range air_kg_m3{1.02, 1.30};

// How much one start differs from the next: relative sd of drive, of the length of a launch, and of the gaps
// of gear changes. Common practice, no source.
inline constexpr Range start_scatter{0.005, 0.05};
inline constexpr Range launch_scatter{0.03, 0.30};
inline constexpr Range gap_scatter{0.05, 0.30};
// Relative sd of the drive from day to day: temperature (2 % in 10 K), tank (1.6 % in 4 l of a scooter).
inline constexpr Range day_scatter{0.0, 0.015};

}  // namespace range

}  // namespace bothways::population
