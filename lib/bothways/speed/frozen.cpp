#include "bothways/speed/frozen.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

namespace bothways {

namespace {

double least_move_m(const std::vector<Stretch>& stretches, std::vector<double> Stretch::*axis) {
  double least = std::numeric_limits<double>::infinity();
  for (const Stretch& s : stretches) {
    const std::vector<double>& at = s.*axis;
    for (std::size_t i = 1; i < at.size(); ++i) {
      const double move = std::abs(at[i] - at[i - 1]);
      least = move > 0.0 ? std::min(least, move) : least;
    }
  }
  return least;
}

}  // namespace

double position_step_m(const std::vector<Stretch>& stretches) {
  const double east = least_move_m(stretches, &Stretch::east_m);
  const double north = least_move_m(stretches, &Stretch::north_m);
  return std::isinf(east) || std::isinf(north) ? std::min(east, north) : std::max(east, north);
}

std::vector<char> frozen_samples(const Stretch& stretch, double step_m, double below_mps) {
  const std::size_t n = stretch.t_s.size();
  std::vector<char> frozen(n, 0);
  for (std::size_t from = 0; from < n;) {
    std::size_t last = from;
    while (last + 1 < n && stretch.east_m[last + 1] == stretch.east_m[from] &&
           stretch.north_m[last + 1] == stretch.north_m[from]) {
      ++last;
    }
    if (last > from && (stretch.t_s[last] - stretch.t_s[from]) * below_mps > step_m) {
      std::fill(frozen.begin() + static_cast<std::ptrdiff_t>(from),
                frozen.begin() + static_cast<std::ptrdiff_t>(last + 1), 1);
    }
    from = last + 1;
  }
  return frozen;
}

void mark_frozen(SpeedSeries& series) {
  const double step_m = position_step_m(series.stretches);
  for (Stretch& stretch : series.stretches) {
    stretch.frozen = frozen_samples(stretch, step_m, series.rest_mps);
    for (std::size_t i = 0; i < stretch.frozen.size(); ++i) {
      stretch.v_mps[i] = stretch.frozen[i] != 0 ? 0.0 : stretch.v_mps[i];
    }
  }
}

}  // namespace bothways
