#include "bothways/launch/thinning.hpp"

#include <algorithm>
#include <utility>

namespace bothways {

namespace {

constexpr double longest_average_s = 0.105;  // over it a speed is a straight line to a mm/s
constexpr double launch_s = 1.0;             // after the first moving reading, readings stay as they are

bool is_like(const Reading& one, const Reading& other) {
  return one.kind == other.kind && one.kind != Reading::Kind::censored && one.kind != Reading::Kind::excluded;
}

/// Mean by precision, of their times too.
Reading mean_of(const std::vector<Reading>& all, std::size_t begin, std::size_t end) {
  Reading mean = all[begin];
  for (std::size_t i = begin + 1; i < end; ++i) {
    const double share = mean.variance / (mean.variance + all[i].variance);  // of the one that joins
    mean.t_s += share * (all[i].t_s - mean.t_s);
    mean.z += share * (all[i].z - mean.z);
    mean.variance *= 1.0 - share;
  }
  return mean;
}

/// The first of the readings that become one with the last before `end`: as many as take a tenth of a second.
std::size_t first_averaged(const std::vector<Reading>& all, std::size_t end, double from_s) {
  const std::size_t last = end - 1;
  std::size_t first = last;
  while (first > 1 && all[first - 1].t_s > from_s && is_like(all[first - 1], all[last]) &&
         all[last].t_s - all[first - 2].t_s < longest_average_s) {
    --first;
  }
  return first;
}

}  // namespace

LaunchWindow thinned(const LaunchWindow& window) {
  const std::vector<Reading>& all = window.readings;
  const double from_s = std::max(window.range.latest_s + launch_s, window.range.early_end_s);
  std::vector<Reading> out;
  // From the end on: the last reading ends the run and stays.
  for (std::size_t end = all.size(); end > 0;) {
    const std::size_t first = end == all.size() ? end - 1 : first_averaged(all, end, from_s);
    out.push_back(mean_of(all, first, end));
    end = first;
  }
  std::reverse(out.begin(), out.end());
  return {std::move(out), window.range, window.at_rest};
}

}  // namespace bothways
