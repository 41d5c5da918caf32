// docs/method.md, eq. (5.5): w_g = weight, w_g (T_g - T) = off; eq. (5.7): w_p = weight, Var_p(t_to) and
// Var_p(t_from) = variance_over().
#include "bothways/run/shared_errors.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

namespace {

/// Variance of the time over the crossings that may be the first, s^2.
double variance_over(const std::vector<LikelyCrossing>& crossings) {
  double total = 0.0;
  double mean = 0.0;
  double variance = 0.0;
  for (const LikelyCrossing& one : crossings) {  // by Welford's updates: one crossing has exactly none
    total += one.probability;
    const double off = one.at.t_s - mean;
    mean += off * one.probability / total;
    variance += one.probability * off * (one.at.t_s - mean);
  }
  return total > 0.0 ? variance / total : 0.0;
}

/// Variance of the time from one crossing to a later one, over those that may be the first, s^2.
double variance_of_times(const std::vector<LikelyCrossing>& from, const std::vector<LikelyCrossing>& to) {
  std::vector<LikelyCrossing> times;
  for (const LikelyCrossing& begin : from) {
    for (const LikelyCrossing& end : to) {
      if (end.at.t_s > begin.at.t_s) {
        times.push_back({begin.probability * end.probability, {.t_s = end.at.t_s - begin.at.t_s}});
      }
    }
  }
  return variance_over(times);
}

}  // namespace

std::vector<double> shared_errors(const TimeMixture& mixture, double mean_s, std::size_t parts) {
  std::vector<double> weight(parts, 0.0);
  std::vector<double> off(parts, 0.0);
  for (std::size_t i = 0; i < mixture.all.size(); ++i) {
    weight[mixture.part[i]] += mixture.all[i].weight;
    off[mixture.part[i]] += mixture.all[i].weight * (mixture.all[i].mean - mean_s);
  }
  for (std::size_t k = 0; k < parts; ++k) {
    off[k] = weight[k] > 0.0 ? off[k] / std::sqrt(weight[k]) : 0.0;
  }
  return off;
}

void CrossingUncertainty::add(double weight, const std::vector<LikelyCrossing>& from,
                              const std::vector<LikelyCrossing>& to) {
  const double of_end = variance_over(to);
  const double of_begin = variance_over(from);
  if (of_end + of_begin <= 0.0) {
    return;
  }
  // At one gear change an early begin goes with an early end or a late one, but not a late begin with an
  // early end: together they have what the time has.
  const double share = std::min(1.0, variance_of_times(from, to) / (of_end + of_begin));
  to_s2 += weight * share * of_end;
  from_s2 += weight * share * of_begin;
}

std::vector<double> CrossingUncertainty::errors(double total) const {
  if (to_s2 + from_s2 <= 0.0) {
    return {};
  }
  return {std::sqrt(to_s2 / total), -std::sqrt(from_s2 / total)};
}

}  // namespace bothways
