#include "bothways/numeric/mixture.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways::numeric {

namespace {

double cdf(const std::vector<NormalPart>& mixture, double x) {
  double sum = 0.0;
  for (const NormalPart& part : mixture) {
    const double sd = std::sqrt(std::max(part.variance, 1e-18));
    sum += part.weight * 0.5 * std::erfc((part.mean - x) / (sd * std::numbers::sqrt2));
  }
  return sum;
}

double quantile(const std::vector<NormalPart>& mixture, double p, double lo, double hi) {
  for (int i = 0; i < 30; ++i) {
    const double mid = 0.5 * (lo + hi);
    (cdf(mixture, mid) < p ? lo : hi) = mid;
  }
  return 0.5 * (lo + hi);
}

}  // namespace

MixtureSummary mean_and_sd(const std::vector<NormalPart>& mixture) {
  MixtureSummary out;
  for (const NormalPart& part : mixture) {
    out.mean += part.weight * part.mean;
  }
  double variance = 0.0;
  for (const NormalPart& part : mixture) {
    const double off = part.mean - out.mean;
    variance += part.weight * (part.variance + off * off);
  }
  out.sd = std::sqrt(variance);
  return out;
}

MixtureSummary summarise(const std::vector<NormalPart>& mixture) {
  MixtureSummary out = mean_and_sd(mixture);
  if (mixture.empty()) {
    return out;
  }
  double lo = mixture.front().mean;
  double hi = lo;
  for (const NormalPart& part : mixture) {
    const double reach = 6.0 * std::sqrt(part.variance) + 1e-9;
    lo = std::min(lo, part.mean - reach);
    hi = std::max(hi, part.mean + reach);
  }
  out.lo95 = quantile(mixture, 0.025, lo, hi);
  out.hi95 = quantile(mixture, 0.975, lo, hi);
  return out;
}

}  // namespace bothways::numeric
