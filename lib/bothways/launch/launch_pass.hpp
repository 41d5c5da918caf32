#pragma once

#include "bothways/launch/launch.hpp"
#include "bothways/numeric/seen.hpp"

#include <cstddef>
#include <limits>
#include <optional>
#include <vector>

namespace bothways {

/// The slow error as known from the standing readings: before any, its stationary law.
struct SlowError {
  double mean = 0.0;
  double variance = 0.0;
  double t_s = 0.0;
};

/// Everything of a window that is the same for all launch instants.
struct LaunchPass {
  const std::vector<Reading>* readings = nullptr;
  const LaunchModel* model = nullptr;
  numeric::State h_speed;
  numeric::State h_position;
  bool smoothed = false;                        ///< speeds are read through the receiver's smoothing
  std::vector<double> standing_log_likelihood;  ///< (readings + 1): of the first k, all standing, but those
                                                ///< of speed before any launch
  std::vector<SlowError> slow;                  ///< (readings + 1): after the first k
  std::vector<double> t_s;                      ///< (n) readings' times and points between
  std::vector<int> reading;                     ///< (n) index of the reading, -1 for points between
  std::vector<double> factor;                   ///< (n) jerk factor of the step that ends at a time
  std::size_t sure = 0;                         ///< index of the first reading that is surely moving
  std::vector<numeric::SeenStep> step;          ///< (sure) to the next time; none where positions are read
  std::vector<numeric::SeenStep> to_reading;    ///< (sure) to the next reading
  std::vector<std::size_t> next_reading;        ///< (sure) which time that is
  std::vector<numeric::Told> told;              ///< (n) by the readings from here on, for a constant shape
  const PassMatrices* last = nullptr;           ///< (n) last time first: kept by the model's store, or `own`
  std::vector<PassMatrices> own;
  std::vector<double> at_most;  ///< (sure+1) log p of the readings from here on, at its best

  [[nodiscard]] const PassMatrices& matrices(std::size_t k) const { return last[t_s.size() - 1 - k]; }
};

/// Holds until another pass is made with the same store.
/// @param shaped_s  points between readings so far after the last launch instant only: enough to weigh shapes
///                  that are over by then
[[nodiscard]] LaunchPass prepare_launch(const std::vector<Reading>& readings, const LaunchModel& model,
                                        const LaunchRange& range,
                                        double shaped_s = std::numeric_limits<double>::infinity());

[[nodiscard]] double dt_after(const LaunchPass& pass, std::size_t k);

/// A reading as it enters the smoother.
struct Smoothed {
  double z = 0.0;
  double variance = 1.0;                ///< > 0
  const numeric::State* row = nullptr;  ///< h, in the pass
};

/// Adds what a reading tells. @param log_peak  of the time's matrices
void take_told(const Smoothed& reading, double log_peak, numeric::Told& told);

/// The reading at a time as it enters the smoother; nothing if it has no say there.
[[nodiscard]] std::optional<Smoothed> smoothed_reading(const LaunchPass& pass, std::size_t k);

/// What one launch instant gives.
struct LaunchTrial {
  double log_likelihood = 0.0;
  std::size_t first = 0;   ///< index of the first time after t0
  std::size_t common = 0;  ///< from this time on the common pass holds
};

/// log p(all readings | launch at t0), and what trace_launch needs.
/// @param floor  what is surely below it is not worked out to the end: log_likelihood is a value below it
[[nodiscard]] LaunchTrial try_launch(const LaunchPass& pass, double t0_s,
                                     double floor = -std::numeric_limits<double>::infinity());

/// How the motion goes on between the times of a pass, for a constant shape.
[[nodiscard]] LaunchTimes times_of(const LaunchPass& pass);

/// The smoothed motion after a launch at the trial's t0.
/// @param times  times_of(pass)
void trace_launch(const LaunchPass& pass, const LaunchTimes& times, const LaunchTrial& trial,
                  LaunchNode& node);

}  // namespace bothways
