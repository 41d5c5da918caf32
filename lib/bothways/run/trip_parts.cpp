#include "bothways/run/trip_parts.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <deque>
#include <utility>

namespace bothways {

namespace {

constexpr double smooth_half_s = 0.5;
constexpr double picked_highest = 1.25;  // the highest of several is too high by part of an sd
constexpr double least_turn_m = 5.0;     // heights wander by metres; a smaller rise may be nothing
constexpr double wander_share = 0.75;    // of the stands
constexpr double least_wander_s = 5.0;
constexpr double height_mean_s = 5.0;
constexpr double lowest_m = -500.0;
constexpr double highest_m = 9000.0;
constexpr std::size_t drift_bins = 100;
constexpr double least_drift_s = 120.0;

/// Mean speed over a second about each row, within rows without a gap.
struct Smoothed {
  std::vector<double> v_mps;
  double rows = 1.0;  ///< usual number of rows in a mean
};

Smoothed smoothed(const SpeedSeries& series, const Ridden& ridden, std::size_t first, std::size_t last) {
  const double half_s = std::max(smooth_half_s, 1.05 / series.receiver.rate_hz);
  Smoothed out;
  std::size_t lo = first;
  std::size_t hi = first;
  double sum = 0.0;
  double counted = 0.0;
  for (std::size_t i = first; i <= last; ++i) {
    for (; hi <= last && ridden.rows[hi].t_s <= ridden.rows[i].t_s + half_s; ++hi) {
      sum += ridden.rows[hi].v_mps;
    }
    for (; ridden.rows[lo].t_s < ridden.rows[i].t_s - half_s; ++lo) {
      sum -= ridden.rows[lo].v_mps;
    }
    const auto n = static_cast<double>(hi - lo);
    out.v_mps.push_back(series.source == SpeedSource::positions ? ridden.rows[i].v_mps : sum / n);
    counted += n;
  }
  out.rows = counted / static_cast<double>(last - first + 1);
  return out;
}

/// Highest of the lowest within windows of the duration; below 0 where no window fits.
double highest_held(const Ridden& ridden, std::size_t first, const std::vector<double>& v_mps,
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
           ridden.rows[first + i].t_s - ridden.rows[first + begin + 1].t_s >= duration_s - same_time_s) {
      ++begin;
    }
    while (low.front() < begin) {
      low.pop_front();
    }
    if (ridden.rows[first + i].t_s - ridden.rows[first + begin].t_s >= duration_s - same_time_s) {
      best = std::max(best, v_mps[low.front()]);
    }
  }
  return best;
}

ChannelSpread spread_of(const std::vector<double>& values) {
  ChannelSpread spread;
  spread.n = values.size();
  if (!values.empty()) {
    const auto [lo, hi] = std::minmax_element(values.begin(), values.end());
    spread.min = *lo;
    spread.max = *hi;
    spread.median = numeric::quantile(values, 0.5);
  }
  return spread;
}

/// Median of the slopes between all pairs of medians of up to 100 bins, in 1/h.
double drift_per_h(const std::vector<double>& t_s, const std::vector<double>& values) {
  if (t_s.size() < 3 || t_s.back() - t_s.front() < least_drift_s) {
    return unknown;
  }
  const double width_s = (t_s.back() - t_s.front()) / static_cast<double>(drift_bins);
  std::vector<double> middle_s;
  std::vector<double> middle;
  for (std::size_t i = 0; i < t_s.size();) {
    const double bin = std::floor((t_s[i] - t_s.front()) / width_s);
    std::size_t k = i;
    while (k < t_s.size() && std::floor((t_s[k] - t_s.front()) / width_s) <= bin) {
      ++k;
    }
    const auto at = [](std::size_t n) { return static_cast<std::ptrdiff_t>(n); };
    middle_s.push_back((t_s[i] + t_s[k - 1]) / 2.0);
    middle.push_back(numeric::quantile({values.begin() + at(i), values.begin() + at(k)}, 0.5));
    i = k;
  }
  std::vector<double> slopes;
  for (std::size_t i = 0; i < middle.size(); ++i) {
    for (std::size_t k = i + 1; k < middle.size(); ++k) {
      slopes.push_back((middle[k] - middle[i]) / (middle_s[k] - middle_s[i]));
    }
  }
  return slopes.empty() ? unknown : numeric::quantile(std::move(slopes), 0.5) * 3600.0;
}

/// Height of a row; unknown where there is none, or none on earth.
double height_of(const SpeedSeries& series, const RiddenRow& row) {
  const double height_m = series.stretches[row.stretch].ele_m[row.row];
  return height_m >= lowest_m && height_m <= highest_m ? height_m : unknown;
}

/// How far heights wander while the vehicle stands; 0 where it never stands for long.
double wander_m(const SpeedSeries& series, const Ridden& ridden) {
  std::vector<double> ranges;
  double begin_s = 0.0;
  double lo = unknown;
  double hi = unknown;
  for (std::size_t i = 0; i < ridden.rows.size(); ++i) {
    const double height_m = height_of(series, ridden.rows[i]);
    if (ridden.moving[i] != 0) {
      if (is_known(lo) && ridden.rows[i].t_s - begin_s >= least_wander_s) {
        ranges.push_back(hi - lo);
      }
      lo = hi = unknown;
    } else if (is_known(height_m)) {
      begin_s = is_known(lo) ? begin_s : ridden.rows[i].t_s;
      lo = is_known(lo) ? std::min(lo, height_m) : height_m;
      hi = is_known(hi) ? std::max(hi, height_m) : height_m;
    }
  }
  return numeric::quantile(std::move(ranges), wander_share);
}

/// Adds up rises between turns of at least so many metres.
class Rises {
 public:
  explicit Rises(double turn_m) : turn_m_(turn_m) {}

  void take(double height_m) {
    if (!is_known(low_m_)) {
      low_m_ = high_m_ = height_m;
    }
    high_m_ = std::max(high_m_, height_m);
    if (high_m_ - low_m_ >= turn_m_ && high_m_ - height_m >= turn_m_) {  // over the top
      sum_m_ += high_m_ - low_m_;
      low_m_ = high_m_ = height_m;
    } else if (high_m_ - low_m_ < turn_m_ && height_m < low_m_) {
      low_m_ = high_m_ = height_m;
    }
  }
  [[nodiscard]] double sum_m() const {
    return high_m_ - low_m_ >= turn_m_ ? sum_m_ + (high_m_ - low_m_) : sum_m_;
  }

 private:
  double turn_m_;
  double low_m_ = unknown;
  double high_m_ = unknown;
  double sum_m_ = 0.0;
};

}  // namespace

Estimate sustained_mps(const SpeedSeries& series, const Ridden& ridden, double duration_s) {
  double best = -1.0;
  double rows = 1.0;
  for (std::size_t first = 0; first < ridden.rows.size();) {
    std::size_t last = first;
    while (last + 1 < ridden.rows.size() && ridden.between[last] == Between::ride) {
      ++last;
    }
    const Smoothed smooth = smoothed(series, ridden, first, last);
    const double held = highest_held(ridden, first, smooth.v_mps, duration_s);
    if (held > best) {
      best = held;
      rows = smooth.rows;
    }
    first = last + 1;
  }
  if (best < ridden.rest_mps) {
    return {};
  }
  const Receiver& receiver = series.receiver;
  const double white = series.source == SpeedSource::positions ? receiver.white_sd_mps
                                                               : receiver.white_sd_mps / std::sqrt(rows);
  const double sd_mps = std::hypot(white, receiver.slow_sd_mps, receiver.resolution_mps / 3.5);
  return normal_estimate(best, picked_highest * sd_mps);
}

Climb climb_of(const SpeedSeries& series, const Ridden& ridden) {
  Climb climb{unknown, std::max(least_turn_m, wander_m(series, ridden))};
  Rises rises(climb.turn_m);
  std::size_t moving = 0;
  std::size_t known = 0;
  double sum = 0.0;
  double begin_s = 0.0;
  std::size_t n = 0;
  for (std::size_t i = 0; i < ridden.rows.size(); ++i) {
    const double t_s = ridden.rows[i].t_s;
    const double height_m = height_of(series, ridden.rows[i]);
    moving += ridden.moving[i] != 0 ? 1U : 0U;
    if (ridden.moving[i] == 0 || !is_known(height_m)) {
      continue;
    }
    ++known;
    if (n > 0 && t_s - begin_s > height_mean_s) {
      rises.take(sum / static_cast<double>(n));
      sum = 0.0;
      n = 0;
    }
    begin_s = n == 0 ? t_s : begin_s;
    sum += height_m;
    ++n;
  }
  if (n > 0) {
    rises.take(sum / static_cast<double>(n));
  }
  if (moving > 0 && known * 20 >= moving) {
    climb.climb_m = rises.sum_m();
  }
  return climb;
}

std::vector<ChannelSummary> summarise_channels(const Log& log, const SpeedSeries& series,
                                               const Ridden& ridden) {
  std::vector<ChannelSummary> summaries;
  if (ridden.rows.empty()) {
    return summaries;
  }
  const Instant origin = series.stretches.front().start;
  for (const Channel& channel : log.channels) {
    std::vector<double> t_s;
    std::vector<double> all;
    std::vector<double> standing;
    std::vector<double> moving;
    std::size_t row = 0;
    for (std::size_t i = 0; i < channel.value.size() && i < log.fixes.size(); ++i) {
      if (!std::isfinite(channel.value[i])) {
        continue;
      }
      const double at_s = seconds_between(origin, log.fixes[i].time);
      while (row + 1 < ridden.rows.size() && ridden.rows[row + 1].t_s <= at_s + 1e-9) {
        ++row;
      }
      t_s.push_back(at_s);
      all.push_back(channel.value[i]);
      (ridden.moving[row] != 0 ? moving : standing).push_back(channel.value[i]);
    }
    if (!all.empty()) {
      summaries.push_back({channel.name, spread_of(standing), spread_of(moving), drift_per_h(t_s, all)});
    }
  }
  return summaries;
}

}  // namespace bothways
