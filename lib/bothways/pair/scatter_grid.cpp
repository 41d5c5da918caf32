#include "bothways/pair/scatter_grid.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace bothways {

namespace {

/// P(|T| < x) of Student's t with 3 degrees of freedom, x >= 0.
double within(double x) {
  const double theta = std::atan(x / std::sqrt(3.0));
  return (theta + std::sin(theta) * std::cos(theta)) * 2.0 / std::numbers::pi;
}

double step_of(const Axis& axis) {
  return axis.count > 1 ? (axis.hi - axis.lo) / (axis.count - 1) : 0.0;
}

}  // namespace

Axis whole_axis(double scale, double seen, int count) {
  if (!(scale > 0.0)) {
    return {};
  }
  const double least = seen > 0.0 ? std::min(scale, seen) : scale;
  return {.scale = scale,
          .lo = std::log(least / 30.0),
          .hi = std::log(std::max(15.0 * scale, 4.0 * seen)),
          .count = count};
}

std::vector<Weighed> grid_of(const Axis& axis) {
  if (!(axis.scale > 0.0)) {
    return {{0.0, 1.0, 0.0}};
  }
  const auto mass_below = [&](double log_sd) { return within(std::exp(log_sd) / axis.scale); };
  const double step = step_of(axis);
  std::vector<Weighed> grid;
  for (int i = 0; i < axis.count; ++i) {
    const double at = axis.lo + i * step;
    const double from = i == 0 && axis.open_below ? 0.0 : mass_below(at - 0.5 * step);
    const double to = i + 1 == axis.count && axis.open_above ? 1.0 : mass_below(at + 0.5 * step);
    const double weight = std::max(to - from, 1e-300);
    grid.push_back({std::exp(at), weight, std::log(weight)});
  }
  return grid;
}

Axis zoomed(const Axis& axis, const std::vector<double>& marginal) {
  constexpr double nothing = 1e-4;
  if (axis.count < 2) {
    return axis;
  }
  int first = 0;
  int last = axis.count - 1;
  while (first < last && marginal[static_cast<std::size_t>(first)] < nothing) {
    ++first;
  }
  while (last > first && marginal[static_cast<std::size_t>(last)] < nothing) {
    --last;
  }
  Axis part = axis;
  const double step = step_of(axis);
  if (first > 0) {
    part.lo = axis.lo + (first - 1) * step;
    part.open_below = false;
  }
  if (last + 1 < axis.count) {
    part.hi = axis.lo + (last + 1) * step;
    part.open_above = false;
  }
  return part;
}

}  // namespace bothways
