#pragma once

// The stage speed/ turns a log into speed against time on stretches without a gap, estimates from it what the
// receiver does to the truth, and judges every sample once: is it valid, is it at rest.

#include "bothways/core/geodesy.hpp"
#include "bothways/core/note.hpp"
#include "bothways/core/speed_filter.hpp"
#include "bothways/core/time.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace bothways {

/// Where the speed comes from: the receiver's own (Doppler) figure, or differences of positions.
enum class SpeedSource { reported, positions };

/// "reported" or "positions": the word of the output contract.
[[nodiscard]] const char* to_string(SpeedSource source);

/// One candidate of a receiver's filter.
struct Smoothing {
  SpeedFilter filter;
  double weight = 1.0;  ///< posterior probability
};

/// What the receiver does to the truth, estimated from the log itself (docs/method.md, "The receiver").
/// A reading is  z = lagged(v) + slow + white,  rounded to `resolution_mps`, and exactly 0 while held.
struct Receiver {
  double rate_hz = 1.0;                  ///< fixes a second, > 0
  double white_sd_mps = 0.05;            ///< independent noise of a speed reading, m/s, > 0
  double slow_sd_mps = 0.05;             ///< slowly correlated noise of a speed reading, m/s, >= 0
  double slow_time_s = 5.0;              ///< its correlation time, s, > 0
  int standing_axes = 1;                 ///< at rest a reading is the length of this many noises, 1 or 2
  double standing_sd_mps = 0.05;         ///< of one of them at rest, m/s, > 0
  double resolution_mps = 0.0;           ///< step of the written speed, m/s; 0: finer than matters
  double zero_hold_mps = 0.0;            ///< below this speed the receiver writes exactly 0; 0: it does not
  double zero_hold_width_mps = 0.0;      ///< how sharply that is known, m/s
  double lag_s = 0.0;                    ///< how much later speeds show the motion than positions do, s
  double lag_sd_s = 0.0;                 ///< how well that is known, s
  std::vector<Smoothing> smoothing{{}};  ///< what its filter may be; weights sum to 1
  double position_white_sd_m = 0.5;      ///< independent noise of a position, one axis, m, > 0
  double position_drift_sd_m = 1.5;      ///< slowly drifting noise of a position, one axis, m, >= 0
  double position_drift_time_s = 60.0;   ///< its correlation time, s, > 0
  double position_stray_sd_mps = 0.1;    ///< rate at which filtered positions go astray, m/s, >= 0
  bool whole_second_stamps = false;      ///< times were cut to seconds and spread again
};

/// Total noise of a speed reading in motion, white and slow, m/s (one sd).
[[nodiscard]] double total_noise_mps(const Receiver& receiver);

/// Whether the step of the written speed is so coarse beside the readings at rest that rounding makes their
/// law: 0.7 of their rms or more, and 0.02 m/s.
/// @param rest_rms_mps  root mean square of the readings at rest
[[nodiscard]] bool is_coarse_step(double step_mps, double rest_rms_mps);

/// Whether a sample is used, and else which kind of outlier it is. An outlier keeps its place and its figure.
enum class Validity : std::uint8_t {
  valid,
  spike,       ///< one to three samples that stand out against both neighbours
  excursion,   ///< between a jump and the jump back, for seconds
  unreachable  ///< of a piece that no vehicle could have reached from the rest, or faster than any
};

/// "valid", "spike", "excursion" or "unreachable": the word of the output contract.
[[nodiscard]] const char* to_string(Validity validity);

/// A silence longer than this is a gap: 3.2 usual steps, 1.5 s at least. Seconds.
/// @param step_s  usual time between samples, s, >= 0
[[nodiscard]] double longest_silence_s(double step_s);

/// Speed against time on one stretch without a gap. All columns have n >= 2 rows, one a sample.
struct Stretch {
  Instant start;                ///< time of row 0
  std::vector<double> t_s;      ///< (n) seconds from `start`, strictly increasing
  std::vector<double> v_mps;    ///< (n) speed, m/s: as reported, or smoothed from positions
  std::vector<double> sd_mps;   ///< (n) its standard deviation, m/s, > 0
  std::vector<double> east_m;   ///< (n) position on the plane of the series, m; unknown (NaN) if not logged
  std::vector<double> north_m;  ///< (n)
  std::vector<double> ele_m;    ///< (n) NaN if not logged
  std::vector<Validity> validity;  ///< (n)
  std::vector<double> smooth_mps;  ///< (n) speed averaged over about 0.4 s, outliers passed over
  std::vector<char> at_rest;       ///< (n) 1: the vehicle is taken to stand
  std::vector<char> frozen;  ///< (n) 1: the receiver wrote one place over and over; empty unless speeds are
                             ///< from positions
};

/// Whether a sample of a stretch is no outlier.
[[nodiscard]] inline bool is_valid(const Stretch& stretch, std::size_t row) {
  return stretch.validity[row] == Validity::valid;
}

/// First row at or after a time of the stretch, s; the number of rows if there is none.
[[nodiscard]] inline std::size_t row_at(const Stretch& stretch, double t_s) {
  const std::vector<double>& t = stretch.t_s;
  return static_cast<std::size_t>(std::lower_bound(t.begin(), t.end(), t_s) - t.begin());
}

/// The speed stage's value.
struct SpeedSeries {
  SpeedSource source = SpeedSource::reported;
  Receiver receiver;
  LocalPlane plane;                ///< east_m, north_m of every stretch refer to it
  std::vector<Stretch> stretches;  ///< in order of time
  double rest_mps = 0.0;           ///< a smoothed speed below it counts as at rest
  std::size_t outliers = 0;        ///< samples that are not valid
  std::size_t readings = 0;  ///< of a log whose rows repeat readings or are drawn between: these; else 0
  bool moved_only = false;   ///< points were written only once the vehicle had moved: no rest is in the log
  std::vector<Note> notes;
};

}  // namespace bothways
