#pragma once

#include "bothways/launch/launch.hpp"

#include <cstddef>
#include <optional>
#include <vector>

namespace bothways {

/// A level of speed or travel.
struct Level {
  int row = numeric::i_v;  ///< i_v or i_s
  double value = 0.0;
};

/// One crossing on one path.
struct Crossing {
  double t_s = 0.0;
  double slope = 1.0;     ///< of the crossed quantity, per s
  std::size_t index = 0;  ///< point of the path at its end
  int row = numeric::i_v;
};

/// How the beliefs of all launch instants go on from a time that is after all of them: a covariance P there
/// becomes a P a' + c.
struct Onwards {
  std::size_t from = 0;                 ///< index of that time
  std::vector<numeric::StateMatrix> a;  ///< (n - from)
  std::vector<numeric::StateMatrix> c;
};

[[nodiscard]] Onwards onwards_from(const LaunchTimes& times, std::size_t from);

/// One launch instant's smoothed motion: point 0 is t0 itself.
struct Path {
  const LaunchFit& fit;
  const LaunchNode& node;
  double weight = 1.0;                    ///< of this launch instant
  std::vector<numeric::StateMatrix> cov;  ///< filled up to the last point asked
  const Onwards* onwards = nullptr;       ///< tells of the points after that

  [[nodiscard]] std::size_t size() const { return node.mean.size() + 1; }
  [[nodiscard]] double t(std::size_t i) const {
    return i == 0 ? node.t0_s : fit.times->t_s[node.first + i - 1];
  }
  [[nodiscard]] const numeric::State& mean(std::size_t i) const {
    return i == 0 ? node.start.mean : node.mean[i - 1];
  }
  /// Dynamics from point i to i + 1.
  [[nodiscard]] const numeric::Conditional& step(std::size_t i) const {
    return i == 0 ? node.entry : fit.times->forward[node.first + i - 1];
  }
};

/// Smoothed covariances of points 0..last.
void fill_covariances(Path& path, std::size_t last);

/// The same up to the time from which `onwards` tells.
void fill_covariances(Path& path, const Onwards& onwards);

/// First crossing of a level from below, before end_s; nothing if there is none.
/// @param from  the point to look on from: a higher level is not crossed before a lower one
[[nodiscard]] std::optional<Crossing> first_crossing(const Path& path, const Level& level, double end_s,
                                                     std::size_t from = 0);

/// Variance of the time of a crossing, s^2: of what is crossed, over its slope squared.
[[nodiscard]] double variance_of(const Path& path, const Crossing& at);

/// Covariances of the time of one crossing with those of others, s^2; 0 where there is none or it is earlier.
/// @param to  in the order of the path
[[nodiscard]] std::vector<double> covariances_with(const Path& path, const Crossing& from,
                                                   const std::vector<std::optional<Crossing>>& to);

/// Travel from rest at a crossing, m.
[[nodiscard]] double travel_at(const Path& path, const Crossing& at);

}  // namespace bothways
