#pragma once

#include "bothways/launch/path.hpp"
#include "bothways/launch/rises.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace bothways {

/// A level of speed or travel.
struct Level {
  int row = numeric::i_v;  ///< i_v or i_s
  double value = 0.0;
};

/// One crossing of the mean path, and what its time hangs on.
struct Crossing {
  double t_s = 0.0;
  double slope = 1.0;     ///< of the crossed quantity, per s
  std::size_t index = 0;  ///< point of the path at its end
  int row = numeric::i_v;
};

/// First crossing of a level from below, before end_s; nothing if there is none.
/// @param from  the point to look on from: a higher level is not crossed before a lower one
[[nodiscard]] std::optional<Crossing> first_crossing(const SmoothedPath& path, const Level& level,
                                                     double end_s, std::size_t from = 0);

/// A crossing that may be the first one, and how likely it is.
struct LikelyCrossing {
  double probability = 1.0;
  Crossing at;
};

/// All crossings that may be the first, in order of time: where a gear change or a spin falls on the level,
/// the mean path's first crossing says nothing of the one before or after it. A rise of the path to a peak
/// reaches the level with P(peak > level); the first crossing is in it if no rise before it did. The
/// probabilities sum to that of any crossing. Eq. (5.1).
/// @param rises  of the level's row, up to end_s
[[nodiscard]] std::vector<LikelyCrossing> likely_crossings(const SmoothedPath& path,
                                                           const std::vector<Rise>& rises, const Level& level,
                                                           double end_s);

/// Variance of the time of a crossing, s^2: of what is crossed, over its slope squared; eq. (5.2).
[[nodiscard]] double crossing_variance(const SmoothedPath& path, const Crossing& at);

/// Covariances of the time of one crossing with those of others, s^2; 0 where there is none or it is earlier;
/// eq. (5.3).
/// @param to  in the order of the path
[[nodiscard]] std::vector<double> crossing_covariances(const SmoothedPath& path, const Crossing& from,
                                                       const std::vector<std::optional<Crossing>>& to);

/// Travel from rest at a crossing, m.
[[nodiscard]] double travel_at(const SmoothedPath& path, const Crossing& at);

}  // namespace bothways
