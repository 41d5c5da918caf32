#include "bothways/trip/channels.hpp"

#include "bothways/core/estimate.hpp"
#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

namespace {

constexpr std::size_t drift_bins = 100;
constexpr double least_drift_s = 120.0;
constexpr double least_rate_s = 1800.0;  // less is not carried on to an hour

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

/// Medians of up to 100 bins.
struct Binned {
  std::vector<double> t_s;
  std::vector<double> value;
};

Binned binned(const std::vector<double>& t_s, const std::vector<double>& values) {
  const double width_s = (t_s.back() - t_s.front()) / static_cast<double>(drift_bins);
  Binned bins;
  for (std::size_t i = 0; i < t_s.size();) {
    const double bin = std::floor((t_s[i] - t_s.front()) / width_s);
    std::size_t k = i;
    while (k < t_s.size() && std::floor((t_s[k] - t_s.front()) / width_s) <= bin) {
      ++k;
    }
    const auto at = [](std::size_t n) { return static_cast<std::ptrdiff_t>(n); };
    bins.t_s.push_back((t_s[i] + t_s[k - 1]) / 2.0);
    bins.value.push_back(numeric::quantile({values.begin() + at(i), values.begin() + at(k)}, 0.5));
    i = k;
  }
  return bins;
}

/// How many independent values so many bins are worth, whose neighbours share their error: a battery under
/// load.
double effective_number(const Binned& bins, double slope) {
  std::vector<double> rest;
  for (std::size_t i = 0; i < bins.t_s.size(); ++i) {
    rest.push_back(bins.value[i] - slope * bins.t_s[i]);
  }
  const double middle = numeric::quantile(rest, 0.5);
  double product = 0.0;
  double square = 0.0;
  for (std::size_t i = 0; i < rest.size(); ++i) {
    square += (rest[i] - middle) * (rest[i] - middle);
    product += i > 0 ? (rest[i] - middle) * (rest[i - 1] - middle) : 0.0;
  }
  const double shared = square > 0.0 ? std::clamp(product / square, 0.0, 0.95) : 0.0;
  return static_cast<double>(rest.size()) * (1.0 - shared) / (1.0 + shared);
}

/// Change over the time of the values: median of the slopes between all pairs of bins; its interval holds the
/// middle ones of them [SEN68]. Unknown below two minutes.
Estimate drift_of(const std::vector<double>& t_s, const std::vector<double>& values) {
  const Estimate none{unknown, unknown, unknown, unknown};
  if (t_s.size() < 3 || t_s.back() - t_s.front() < least_drift_s) {
    return none;
  }
  const Binned bins = binned(t_s, values);
  std::vector<double> slopes;
  for (std::size_t i = 0; i < bins.t_s.size(); ++i) {
    for (std::size_t k = i + 1; k < bins.t_s.size(); ++k) {
      slopes.push_back((bins.value[k] - bins.value[i]) / (bins.t_s[k] - bins.t_s[i]));
    }
  }
  if (slopes.empty()) {
    return none;
  }
  const double slope = numeric::quantile(slopes, 0.5);
  const double n = std::max(2.0, effective_number(bins, slope));
  const double share =
      std::min(1.0, half95 * std::sqrt(n * (n - 1.0) * (2.0 * n + 5.0) / 18.0) / (n * (n - 1.0) / 2.0));
  const double lasts_s = t_s.back() - t_s.front();
  const double lo = numeric::quantile(slopes, 0.5 - share / 2.0);
  const double hi = numeric::quantile(std::move(slopes), 0.5 + share / 2.0);
  return {slope * lasts_s, (hi - lo) * lasts_s / (2.0 * half95), lo * lasts_s, hi * lasts_s};
}

}  // namespace

std::vector<ChannelSummary> summarise_channels(const Log& log, const SpeedSeries& series,
                                               const ValidSamples& samples) {
  std::vector<ChannelSummary> summaries;
  if (samples.rows.empty()) {
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
      while (row + 1 < samples.rows.size() && samples.rows[row + 1].t_s <= at_s + 1e-9) {
        ++row;
      }
      t_s.push_back(at_s);
      all.push_back(channel.value[i]);
      (samples.moving[row] != 0 ? moving : standing).push_back(channel.value[i]);
    }
    if (!all.empty()) {
      const Estimate drift = drift_of(t_s, all);
      const double lasts_s = t_s.back() - t_s.front();
      const double per_h = lasts_s >= least_rate_s ? drift.value / lasts_s * 3600.0 : unknown;
      summaries.push_back({channel.name, spread_of(standing), spread_of(moving), drift, per_h});
    }
  }
  return summaries;
}

}  // namespace bothways
