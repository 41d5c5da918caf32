#pragma once

#include "bothways/launch/matrix_store.hpp"
#include "bothways/numeric/backward.hpp"

#include <cstddef>
#include <limits>
#include <memory>
#include <optional>
#include <vector>

namespace bothways {

/// One reading of a launch window, as the model sees it.
struct Reading {
  enum class Kind {
    speed,     ///< a speed
    held,      ///< exactly 0 because the receiver holds zero: the speed was below the hold
    position,  ///< travel along the road, from the standing place
    none       ///< nothing usable (spike); keeps its time
  };
  double t_s = 0.0;       ///< time in the window
  double z = 0.0;         ///< m/s or m
  double variance = 1.0;  ///< of the white part, (m/s)^2 or m^2, > 0
  Kind kind = Kind::speed;
  double jerk_factor = 1.0;  ///< of the jerk density since the reading before: > 1 where the motion is rough
  /// If the vehicle still stands (read_at_rest sets both; not for positions): log p of this reading, given
  /// those before, and the variance of the slow error after it, (m/s)^2.
  double standing_log_p = std::numeric_limits<double>::quiet_NaN();
  double standing_slow_variance = std::numeric_limits<double>::quiet_NaN();
};

/// How far the hold of a receiver reaches: P(reads 0 | v) falls from 1 to 0 round hold_mps; a share of the
/// readings (phones) is held up to far_mps.
struct ZeroHold {
  double hold_mps = 0.0;
  double width_mps = 0.02;
  double far_share = 0.0;
  double far_mps = 2.0;
};

/// Expected acceleration after first movement: straight lines between points `step_s` apart, constant after
/// the last.
struct LaunchShape {
  double step_s = 0.05;
  std::vector<double> a_mps2{1.0};  ///< at least one
  double sd_mps2 = 3.0;             ///< of a run's own first acceleration round it
  double prior = 1.0;               ///< how likely before any reading, beside other shapes

  [[nodiscard]] double at(double tau_s) const;
  [[nodiscard]] double length_s() const { return step_s * static_cast<double>(a_mps2.size() - 1); }
};

struct LaunchModel {
  numeric::Motion motion;
  ZeroHold hold;
  LaunchShape shape;
  double standing_sd = 0.05;    ///< of one noise at rest, m/s; for positions: not used
  int standing_axes = 1;        ///< at rest a reading is the length of this many noises
  double resolution_mps = 0.0;  ///< step of the written speed
  double unseen_creep_s = 0.0;  ///< a vehicle may creep this long before anything shows
  bool positions = false;       ///< readings are positions
  /// Shared by the copies of a model; results are the same without.
  std::shared_ptr<MatrixStore> store;
};

/// Launches between these instants are considered.
struct LaunchRange {
  double earliest_s = 0.0;
  double latest_s = 0.0;     ///< the first reading that is surely moving
  double early_end_s = 0.0;  ///< the launch is over: about 2 m/s
};

/// One possible launch instant, its weight, and the motion that follows from it.
struct LaunchNode {
  double t0_s = 0.0;
  double weight = 0.0;               ///< sums to 1 over the nodes, those left out included
  std::size_t first = 0;             ///< index of the first time after t0
  numeric::Gaussian start;           ///< smoothed state at t0
  numeric::Conditional entry;        ///< from t0 to the first time after it
  std::vector<numeric::State> mean;  ///< smoothed states at times first..n-1
};

/// The times of a launch window, and how the motion goes on between them.
struct LaunchTimes {
  std::vector<double> t_s;                    ///< (n) readings' times and points between
  std::vector<int> reading;                   ///< (n) index of the reading, -1 for points between
  std::vector<numeric::Conditional> forward;  ///< (n-1); a and c hold for every node, b without a shape
};

/// The posterior of one launch (docs/method.md, "The launch posterior").
struct LaunchFit {
  std::shared_ptr<const LaunchTimes> times;  ///< shared by the fits of several shapes
  std::vector<LaunchNode> nodes;             ///< at least one
  double unseen_creep_s = 0.0;               ///< of the model
  double spacing_s = 0.0;                    ///< between the launch instants tried
  double log_evidence = 0.0;                 ///< log p(readings | model), over all launch instants
};

/// How finely launch instants are tried.
struct LaunchGrid {
  int coarse = 20;
  int fine = 13;
  bool all = true;  ///< false: only the likeliest launch instant becomes a node
};

/// What the readings say of a launch shape.
struct ShapeEvidence {
  double log_evidence = 0.0;  ///< log p(readings | shape), over all launch instants
  double mean_t0_s = 0.0;     ///< mean of the posterior over the launch instant
};

/// For several shapes that share all else of a model.
/// @param near_s  where the likeliest instant of a shape like these was; set to that of the last one
[[nodiscard]] std::vector<ShapeEvidence> shape_evidence(const std::vector<Reading>& readings,
                                                        LaunchModel model, const LaunchRange& range,
                                                        const std::vector<LaunchShape>& shapes,
                                                        const LaunchGrid& grid,
                                                        std::optional<double>& near_s);

/// Posterior over the launch instant and, for each, the smoothed motion.
/// @param readings  in order of time, from before the launch to the end of the run; >= 2 after latest_s.
[[nodiscard]] LaunchFit fit_launch(const std::vector<Reading>& readings, const LaunchModel& model,
                                   const LaunchRange& range, const LaunchGrid& grid = {});

/// A shape of several, of which the lightest launch instants may not be worth following.
struct SoughtShape {
  LaunchShape shape;
  double lightest = 0.0;  ///< instants of less weight are left out, but for the likeliest
};

/// The same for several shapes that share all else of a model.
[[nodiscard]] std::vector<LaunchFit> fit_launches(const std::vector<Reading>& readings, LaunchModel model,
                                                  const LaunchRange& range,
                                                  const std::vector<SoughtShape>& shapes,
                                                  const LaunchGrid& grid = {});

/// Mean of the posterior over the launch instant, s.
[[nodiscard]] double mean_launch_s(const std::vector<Reading>& readings, const LaunchModel& model,
                                   const LaunchRange& range);

/// log p(readings | launch at t0, model): for choosing a model.
[[nodiscard]] double launch_log_likelihood(const std::vector<Reading>& readings, const LaunchModel& model,
                                           const LaunchRange& range, double t0_s);

}  // namespace bothways
