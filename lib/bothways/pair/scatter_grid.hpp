#pragma once

#include <vector>

namespace bothways {

/// A scatter and the share of its prior that it stands for.
struct Weighed {
  double sd = 0.0;
  double weight = 0.0;
  double log_weight = 0.0;
};

/// Part of the axis of a scatter, in the logarithm. An open end stands for all beyond it.
struct Axis {
  double scale = 0.0;  // of the prior; 0: no such scatter
  double lo = 0.0;
  double hi = 0.0;
  bool open_below = true;
  bool open_above = true;
  int count = 1;
};

/// The axis of a scatter with a half-t prior of this scale, s, where outcomes spread by `seen`, s.
[[nodiscard]] Axis whole_axis(double scale, double seen, int count);

/// Even in the logarithm; each node with the prior's mass about it.
[[nodiscard]] std::vector<Weighed> grid_of(const Axis& axis);

/// The part of the axis that holds nearly all of the posterior.
/// @param marginal  (count) weights of its nodes, the sum is 1
[[nodiscard]] Axis zoomed(const Axis& axis, const std::vector<double>& marginal);

}  // namespace bothways
