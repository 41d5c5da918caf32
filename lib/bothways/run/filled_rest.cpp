#include "bothways/run/filled_rest.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

constexpr double longest_burst_s = 1.0;  // of noise, from rest to rest, in less than the first foot of travel
constexpr double steady_s = 1.5;         // a launch does not linger there

/// Whether the places beside a reading are as far apart as its speed says.
bool has_moved(const Stretch& s, std::size_t row) {
  const double apart_m =
      std::hypot(s.east_m[row + 1] - s.east_m[row - 1], s.north_m[row + 1] - s.north_m[row - 1]);
  return apart_m > s.smooth_mps[row] * 0.5 * (s.t_s[row + 1] - s.t_s[row - 1]);  // a rise and a fall
}

/// Whether rows between two at rest are noise: one reading that the places deny, or a burst that would not
/// have taken the vehicle a foot.
/// @param last  the last row of them; rows first - 1 and last + 1 are at rest
bool is_burst(const Stretch& s, std::size_t first, std::size_t last) {
  double travel_m = 0.0;
  for (std::size_t i = first; i <= last; ++i) {
    if (s.smooth_mps[i] >= rise_mps) {
      return false;
    }
    travel_m += 0.5 * (s.t_s[i + 1] - s.t_s[i - 1]) * s.smooth_mps[i];
  }
  return first == last ? !has_moved(s, first)
                       : travel_m < rollout_m && s.t_s[last + 1] - s.t_s[first - 1] < longest_burst_s;
}

}  // namespace

std::vector<char> filled_rest(const Stretch& s, double unsure_mps) {
  std::vector<char> out = s.at_rest;
  const std::vector<double>& v = s.smooth_mps;
  for (std::size_t i = 1; i + 1 < out.size(); ++i) {
    std::size_t last = i;
    while (s.at_rest[i] == 0 && last + 1 < out.size() && s.at_rest[last + 1] == 0) {
      ++last;
    }
    if (s.at_rest[i] == 0 && s.at_rest[i - 1] != 0 && last + 1 < out.size() && is_burst(s, i, last)) {
      std::fill(out.begin() + static_cast<std::ptrdiff_t>(i),
                out.begin() + static_cast<std::ptrdiff_t>(last) + 1, kicked);
    }
    i = last;
  }
  for (std::size_t i = 0; i < out.size(); ++i) {
    std::size_t last = i;
    while (last + 1 < out.size() && s.at_rest[i] == 0 && v[i] < unsure_mps && s.at_rest[last + 1] == 0 &&
           v[last + 1] < unsure_mps) {
      ++last;
    }
    if (s.t_s[last] - s.t_s[i] >= steady_s) {
      std::fill(out.begin() + static_cast<std::ptrdiff_t>(i),
                out.begin() + static_cast<std::ptrdiff_t>(last) + 1, 1);
    }
    i = last;
  }
  return out;
}

}  // namespace bothways
