#include "bothways/launch/level_crossing.hpp"

#include "bothways/numeric/crossing.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::State;

namespace {

constexpr double least_accel_mps2 = 0.05;  // a slower crossing has no time worth the name
constexpr double least_speed_mps = 0.05;
constexpr double least_peak_variance = 1e-12;
constexpr double least_probability = 0.01;

}  // namespace

std::optional<Crossing> first_crossing(const SmoothedPath& path, const Level& level, double end_s,
                                       std::size_t from) {
  for (std::size_t i = from; i + 1 < path.t_s.size(); ++i) {
    if (!(path.mean[i](level.row) < level.value && level.value <= path.mean[i + 1](level.row))) {
      continue;
    }
    const numeric::Cubic cubic = cubic_of(path, i, level.row);
    const auto t = cubic.t0 < end_s ? numeric::rising_crossing(cubic, level.value) : std::nullopt;
    if (!t || *t > end_s) {
      return std::nullopt;
    }
    const double least = level.row == numeric::i_v ? least_accel_mps2 : least_speed_mps;
    return Crossing{*t, std::max(cubic.slope(*t), least), i + 1, level.row};
  }
  return std::nullopt;
}

namespace {

/// The probability that a rise reaches a level, eq. (5.1).
double reaches(const SmoothedPath& path, const Rise& rise, const Level& level) {
  const double variance = std::max(path.cov[rise.peak](level.row, level.row), least_peak_variance) +
                          rise.rounded_sd * rise.rounded_sd;
  const double above = path.mean[rise.peak](level.row) + rise.rounded_off - level.value;
  return 0.5 * std::erfc(-above / std::sqrt(2.0 * variance));
}

/// The crossing of a rise: where its mean crosses the level, at its knee if that stays below, or where it
/// begins if that lies above.
Crossing crossing_in(const SmoothedPath& path, const Rise& rise, const Level& level, double end_s) {
  const auto at = first_crossing(path, level, end_s, rise.valley);
  if (at && at->index <= rise.peak) {
    return *at;
  }
  const double least = level.row == numeric::i_v ? least_accel_mps2 : least_speed_mps;
  const bool begins_above = rise.valley > 0 && path.mean[rise.valley](level.row) >= level.value;
  const std::size_t point = begins_above ? rise.valley : rise.knee;
  const double span_s = std::max(path.t_s[rise.knee] - path.t_s[rise.valley], 1e-3);
  double slope = (path.mean[rise.knee](level.row) - path.mean[rise.valley](level.row)) / span_s;
  if (rise.knee_width_s > 0.0) {  // anywhere in it
    slope = std::min(rise.knee_slope,
                     std::sqrt(12.0 * path.cov[point](level.row, level.row)) / rise.knee_width_s);
  }
  return {path.t_s[point], std::max(slope, least), point, level.row};
}

}  // namespace

std::vector<LikelyCrossing> likely_crossings(const SmoothedPath& path, const std::vector<Rise>& rises,
                                             const Level& level, double end_s) {
  std::vector<LikelyCrossing> out;
  double not_yet = 1.0;
  for (const Rise& rise : rises) {
    if (rise.peak == 0) {
      continue;
    }
    const double reached = reaches(path, rise, level);
    const double probability = not_yet * reached;
    if (probability >= least_probability) {
      out.push_back({probability, crossing_in(path, rise, level, end_s)});
    }
    not_yet *= 1.0 - reached;
  }
  return out;
}

double crossing_variance(const SmoothedPath& path, const Crossing& at) {
  return std::max(0.0, path.cov[at.index](at.row, at.row)) / (at.slope * at.slope);
}

std::vector<double> crossing_covariances(const SmoothedPath& path, const Crossing& from,
                                         const std::vector<std::optional<Crossing>>& to) {
  std::vector<double> out(to.size(), 0.0);
  std::size_t at = from.index;
  State cov = path.cov[at].col(from.row);  // of what is crossed there with the state at `at`
  for (std::size_t k = 0; k < to.size(); ++k) {
    if (!to[k] || to[k]->index < at) {
      continue;
    }
    for (; at < to[k]->index; ++at) {
      cov = path.lagged[at] * cov;
    }
    out[k] = cov(to[k]->row) / (from.slope * to[k]->slope);
  }
  return out;
}

double travel_at(const SmoothedPath& path, const Crossing& at) {
  return cubic_of(path, at.index - 1, numeric::i_s).value(at.t_s);
}

}  // namespace bothways
