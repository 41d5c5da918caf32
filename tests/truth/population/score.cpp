#include "truth/population/score.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways::population {

namespace {

constexpr double z99 = 2.5758293035489004;
constexpr double z95 = 1.959963984540054;

bool is_sound(const Estimate& found) {
  return std::isfinite(found.value) && std::isfinite(found.lo95) && std::isfinite(found.hi95) &&
         found.lo95 <= found.value && found.value <= found.hi95;
}

/// Variance of the share between clusters over that of as many independent figures. Few misses say little of
/// how they come together, so one more cluster that all hits and one that all misses are counted in, of mean
/// size.
double design_effect(const std::vector<std::pair<std::size_t, std::size_t>>& hits_of, const Share& share) {
  const double size = static_cast<double>(share.n) / static_cast<double>(share.clusters);
  const double n = static_cast<double>(share.n) + 2.0 * size;
  const double clusters = static_cast<double>(share.clusters) + 2.0;
  const double p = (static_cast<double>(share.hits) + size) / n;
  double square = (p * p + (1.0 - p) * (1.0 - p)) * size * size;
  for (const auto& [hits, figures] : hits_of) {
    const double beyond = static_cast<double>(hits) - p * static_cast<double>(figures);
    square += beyond * beyond;
  }
  return std::max(1.0, square * clusters / (clusters - 1.0) / (n * p * (1.0 - p)));
}

}  // namespace

Share share_of(const std::vector<std::pair<std::size_t, std::size_t>>& hits_of) {
  Share share;
  for (const auto& [hits, figures] : hits_of) {
    share.hits += hits;
    share.n += figures;
    share.clusters += figures > 0 ? 1 : 0;
  }
  if (share.n == 0) {
    return share;
  }
  share.value = static_cast<double>(share.hits) / static_cast<double>(share.n);
  const double n = static_cast<double>(share.n) / design_effect(hits_of, share);
  const double middle = share.value + z99 * z99 / (2.0 * n);
  const double half = z99 * std::sqrt(share.value * (1.0 - share.value) / n + z99 * z99 / (4.0 * n * n));
  const double scale = 1.0 + z99 * z99 / n;
  share.lo99 = (middle - half) / scale;
  share.hi99 = (middle + half) / scale;
  return share;
}

std::pair<int, int> taken_of_others(const Judged& ride) {
  return {std::min(ride.false_runs, ride.other_starts), ride.other_starts};
}

Share share_of(const std::vector<Judged>& rides,
               const std::function<std::pair<int, int>(const Judged&)>& count) {
  std::vector<std::pair<std::size_t, std::size_t>> hits_of;
  for (const Judged& ride : rides) {
    const auto [hits, figures] = count(ride);
    hits_of.emplace_back(hits, figures);
  }
  return share_of(hits_of);
}

double interval_score(const Estimate& found, double true_s) {
  constexpr double price = 2.0 / 0.05;
  return found.hi95 - found.lo95 +
         price * (std::max(0.0, found.lo95 - true_s) + std::max(0.0, true_s - found.hi95));
}

double pit(const Estimate& found, double true_s) {
  const double error_s = true_s - found.value;
  const double sd_s = (error_s < 0.0 ? found.value - found.lo95 : found.hi95 - found.value) / z95;
  if (sd_s <= 0.0) {
    return error_s < 0.0 ? 0.0 : error_s > 0.0 ? 1.0 : 0.5;
  }
  return 0.5 * std::erfc(-error_s / sd_s / std::numbers::sqrt2);
}

Summary summary_of(const std::vector<Judged>& rides, const Wanted& wanted) {
  Summary s;
  std::vector<double> sizes;
  std::vector<std::pair<std::size_t, std::size_t>> held_of;
  for (const Judged& ride : rides) {
    std::size_t held = 0;
    std::size_t figures = 0;
    for (const Figure& figure : ride.figures) {
      if (!wanted(ride, figure)) {
        continue;
      }
      const Estimate& found = figure.found;
      if (!is_sound(found)) {
        ++s.broken;
        continue;
      }
      const double error_s = found.value - figure.true_s;
      ++figures;
      held += found.lo95 <= figure.true_s && figure.true_s <= found.hi95 ? 1 : 0;
      sizes.push_back(std::abs(error_s));
      s.bias += error_s;
      s.rms += error_s * error_s;
      s.mean_square += found.sd > 0.0 ? error_s * error_s / (found.sd * found.sd) : 0.0;
      s.half_width += 0.5 * (found.hi95 - found.lo95);
      s.score += interval_score(found, figure.true_s);
      ++s.pit[static_cast<std::size_t>(std::min(9.0, 10.0 * pit(found, figure.true_s)))];
    }
    held_of.emplace_back(held, figures);
  }
  s.held = share_of(held_of);
  if (sizes.empty()) {
    return s;
  }
  const auto n = static_cast<double>(sizes.size());
  for (double* mean : {&s.bias, &s.rms, &s.mean_square, &s.half_width, &s.score}) {
    *mean /= n;
  }
  s.rms = std::sqrt(s.rms);
  const auto middle = sizes.begin() + static_cast<std::ptrdiff_t>(sizes.size() / 2);
  std::nth_element(sizes.begin(), middle, sizes.end());
  s.median = *middle;
  return s;
}

}  // namespace bothways::population
