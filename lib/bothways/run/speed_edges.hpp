#pragma once

#include "bothways/core/split_spec.hpp"
#include "bothways/launch/level_crossing.hpp"
#include "bothways/numeric/mixture.hpp"
#include "bothways/run/run.hpp"

#include <vector>

namespace bothways {

/// Times at which single speeds are reached, over the paths gone through: what pairing takes a run for.
struct EdgeTimes {
  /// One speed.
  struct Edge {
    Level level;
    numeric::Mixture t_s;  ///< from the clock start on
    double s_m = 0.0;      ///< weighted sum
    double reached = 0.0;  ///< weight of the paths that reach it
  };
  double foot_speed_mps = 1.0;  ///< after the first foot, on the likeliest path
  std::vector<Edge> edges;      ///< in order of speed
};

/// The speeds to be timed: every m/s above that after the first foot, and the ends of the splits.
[[nodiscard]] EdgeTimes edge_times(const SmoothedPath& likeliest, const std::vector<SplitSpec>& splits,
                                   double end_s);

/// @param rollout  where the path starts the clock
void add_path(const SmoothedPath& path, const Crossing& rollout, double end_s, EdgeTimes& times);

/// The speeds that half of the weight reaches, the first foot before them.
[[nodiscard]] std::vector<SpeedEdge> edges_of(EdgeTimes times);

}  // namespace bothways
