// docs/method.md, eq. (6.7): weight = k_b g / 2 along the direction of each run; (6.8): slope_covariance_s2.
#include "bothways/pair/slope.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <map>
#include <utility>

namespace bothways {

namespace {

constexpr std::size_t many_places = 400;
constexpr double cell_m = 15.0;
constexpr double slope_sd = 0.005;
constexpr double rougher = 2.5;  // roads under a difference
constexpr double correlation_m = 150.0;

/// Where a run was, on a straight line from its start to its end.
struct Line {
  PlanePoint start;
  PlanePoint along{0.0, 0.0};  // of length 1, or nothing where the run went nowhere
};

Line line_of(const Run& run, const LocalPlane& plane) {
  Line line{.start = plane.to_plane(run.start)};
  const PlanePoint end = plane.to_plane(run.end);
  const double length = std::hypot(end.east_m - line.start.east_m, end.north_m - line.start.north_m);
  if (std::isfinite(length) && length > 0.0) {
    line.along = {(end.east_m - line.start.east_m) / length, (end.north_m - line.start.north_m) / length};
  }
  return line;
}

void add(SlopeWeights& to, const Line& line, double travel_m, double seconds) {
  if (line.along.east_m == 0.0 && line.along.north_m == 0.0) {
    return;
  }
  const double east_m = line.start.east_m + travel_m * line.along.east_m;
  const double north_m = line.start.north_m + travel_m * line.along.north_m;
  to.places.push_back({{east_m, north_m}, seconds * line.along.east_m, seconds * line.along.north_m});
}

/// One place for each cell of the map, in the middle of those in it.
void merge(SlopeWeights& weights) {
  struct Cell {
    SlopeWeights::Place sum;
    double count = 0.0;
  };
  std::map<std::pair<long, long>, Cell> cells;
  for (const auto& place : weights.places) {
    Cell& cell = cells[{std::lround(place.at.east_m / cell_m), std::lround(place.at.north_m / cell_m)}];
    cell.sum.at.east_m += place.at.east_m;
    cell.sum.at.north_m += place.at.north_m;
    cell.sum.east_s += place.east_s;
    cell.sum.north_s += place.north_s;
    cell.count += 1.0;
  }
  weights.places.clear();
  for (auto& [key, cell] : cells) {
    cell.sum.at = {cell.sum.at.east_m / cell.count, cell.sum.at.north_m / cell.count};
    weights.places.push_back(cell.sum);
  }
}

/// What two places add to a covariance.
double product_of(const SlopeWeights::Place& one, const SlopeWeights::Place& other) {
  const double apart_m = std::hypot(one.at.east_m - other.at.east_m, one.at.north_m - other.at.north_m);
  return (one.east_s * other.east_s + one.north_s * other.north_s) * slope_correlation(apart_m);
}

}  // namespace

void add_slope_weights(SlopeWeights& to, double share, std::span<const SensitiveBand> bands, const Run& out,
                       const Run& back, const LocalPlane& plane) {
  const Line there = line_of(out, plane);
  const Line here = line_of(back, plane);
  for (const SensitiveBand& band : bands) {
    const double seconds = share * band.seconds_per_mps2 * gravity_mps2 / 2.0;
    add(to, there, band.out_s_m, seconds);
    add(to, here, band.back_s_m, seconds);
  }
  if (to.places.size() > many_places) {
    merge(to);
  }
}

double slope_correlation(double apart_m) {
  return std::exp(-apart_m / correlation_m);
}

double slope_covariance_s2(const SlopeWeights& a, const SlopeWeights& b) {
  double sum = 0.0;
  for (const auto& one : a.places) {
    for (const auto& other : b.places) {
      sum += product_of(one, other);
    }
  }
  return slope_sd * slope_sd * sum;
}

double slope_difference_variance_s2(const SlopeWeights& a, const SlopeWeights& b) {
  const double variance_s2 = slope_variance_s2(a) + slope_variance_s2(b) - 2.0 * slope_covariance_s2(a, b);
  return rougher * rougher * std::max(0.0, variance_s2);
}

double slope_variance_s2(const SlopeWeights& weights) {
  double sum = 0.0;
  for (std::size_t i = 0; i < weights.places.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      sum += 2.0 * product_of(weights.places[i], weights.places[k]);
    }
    sum += product_of(weights.places[i], weights.places[i]);
  }
  return slope_sd * slope_sd * sum;
}

}  // namespace bothways
