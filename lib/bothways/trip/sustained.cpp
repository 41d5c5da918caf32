#include "bothways/trip/sustained.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <deque>
#include <vector>

namespace bothways {

namespace {

constexpr double smooth_half_s = 0.5;
constexpr double picked_highest = 1.25;  // the highest of several is too high by part of an sd

/// Mean speed over a second about each row, within rows without a gap.
struct MeanSpeed {
  std::vector<double> v_mps;
  double rows = 1.0;  ///< usual number of rows in a mean
};

MeanSpeed mean_speed(const SpeedSeries& series, const ValidSamples& samples, std::size_t first,
                     std::size_t last) {
  const double half_s = std::max(smooth_half_s, 1.05 / series.receiver.rate_hz);
  MeanSpeed out;
  std::size_t lo = first;
  std::size_t hi = first;
  double sum = 0.0;
  double counted = 0.0;
  for (std::size_t i = first; i <= last; ++i) {
    for (; hi <= last && samples.rows[hi].t_s <= samples.rows[i].t_s + half_s; ++hi) {
      sum += samples.rows[hi].v_mps;
    }
    for (; samples.rows[lo].t_s < samples.rows[i].t_s - half_s; ++lo) {
      sum -= samples.rows[lo].v_mps;
    }
    const auto n = static_cast<double>(hi - lo);
    out.v_mps.push_back(series.source == SpeedSource::positions ? samples.rows[i].v_mps : sum / n);
    counted += n;
  }
  out.rows = counted / static_cast<double>(last - first + 1);
  return out;
}

/// Highest of the lowest within windows of the duration; below 0 where no window fits.
double highest_held(const ValidSamples& samples, std::size_t first, const std::vector<double>& v_mps,
                    double duration_s) {
  constexpr double same_time_s = 1e-6;
  double best = -1.0;
  std::deque<std::size_t> low;  // rows of rising speed: the front is the lowest of the window
  std::size_t begin = 0;
  for (std::size_t i = 0; i < v_mps.size(); ++i) {
    while (!low.empty() && v_mps[low.back()] >= v_mps[i]) {
      low.pop_back();
    }
    low.push_back(i);
    // The shortest window that ends here and is long enough.
    while (begin + 1 <= i &&
           samples.rows[first + i].t_s - samples.rows[first + begin + 1].t_s >= duration_s - same_time_s) {
      ++begin;
    }
    while (low.front() < begin) {
      low.pop_front();
    }
    if (samples.rows[first + i].t_s - samples.rows[first + begin].t_s >= duration_s - same_time_s) {
      best = std::max(best, v_mps[low.front()]);
    }
  }
  return best;
}

}  // namespace

Estimate sustained_mps(const SpeedSeries& series, const ValidSamples& samples, double duration_s) {
  double best = -1.0;
  double rows = 1.0;
  for (std::size_t first = 0; first < samples.rows.size();) {
    std::size_t last = first;
    while (last + 1 < samples.rows.size() && samples.between[last] == Between::ride) {
      ++last;
    }
    const MeanSpeed mean = mean_speed(series, samples, first, last);
    const double held = highest_held(samples, first, mean.v_mps, duration_s);
    if (held > best) {
      best = held;
      rows = mean.rows;
    }
    first = last + 1;
  }
  if (best < series.rest_mps) {
    return {};
  }
  const Receiver& receiver = series.receiver;
  const double white = series.source == SpeedSource::positions ? receiver.white_sd_mps
                                                               : receiver.white_sd_mps / std::sqrt(rows);
  const double sd_mps = std::hypot(white, receiver.slow_sd_mps, receiver.resolution_mps / 3.5);
  return normal_estimate(best, picked_highest * sd_mps);
}

}  // namespace bothways
