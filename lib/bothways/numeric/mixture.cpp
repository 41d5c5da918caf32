#include "bothways/numeric/mixture.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways::numeric {

namespace {

/// A part as its distribution function needs it.
struct ScaledPart {
  double weight;
  double mean;
  double per_width;  ///< 1 / (sd sqrt 2)
};

struct Mass {
  double below = 0.0;    ///< share of the mixture below x
  double density = 0.0;  ///< at x
  double slope = 0.0;    ///< of the density
};

Mass mass_at(const std::vector<ScaledPart>& parts, double x) {
  constexpr double nothing_beyond = 6.0;  // erfc(6) = 2e-17
  Mass out;
  for (const ScaledPart& part : parts) {
    const double u = (part.mean - x) * part.per_width;
    if (u <= -nothing_beyond) {
      out.below += part.weight;
    } else if (u < nothing_beyond) {
      out.below += part.weight * 0.5 * std::erfc(u);
      const double density = part.weight * part.per_width * std::exp(-u * u);
      out.density += density;
      out.slope += 2.0 * u * part.per_width * density;
    }
  }
  out.density *= std::numbers::inv_sqrtpi;
  out.slope *= std::numbers::inv_sqrtpi;
  return out;
}

/// Halley's steps from `x`, kept within what is known of the place; halving where they do not help.
double quantile(const std::vector<ScaledPart>& parts, double p, double lo, double hi, double x) {
  const double last_step = 1e-5 * (hi - lo);  // of Halley's: what is left is its cube
  const double exact = 1e-9 * (hi - lo);
  for (int i = 0; i < 60 && hi - lo > exact; ++i) {
    const Mass mass = mass_at(parts, x);
    (mass.below < p ? lo : hi) = x;
    const double newton = (p - mass.below) / mass.density;  // out of range where the density is 0
    double next = x + newton / (1.0 + 0.5 * newton * mass.slope / mass.density);
    if (!(next > lo && next < hi) || i % 8 == 7) {
      next = 0.5 * (lo + hi);
    } else if (std::abs(next - x) < last_step) {
      return next;
    }
    x = next;
  }
  return x;
}

}  // namespace

void normalise(Mixture& mixture, double total) {
  for (NormalPart& part : mixture) {
    part.weight /= total;
  }
}

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

MixtureSummary summarise(const std::vector<NormalPart>& mixture, double level) {
  MixtureSummary out = mean_and_sd(mixture);
  if (mixture.empty()) {
    return out;
  }
  double lo = mixture.front().mean;
  double hi = lo;
  std::vector<ScaledPart> parts;
  parts.reserve(mixture.size());
  for (const NormalPart& part : mixture) {
    const double sd = std::sqrt(std::max(part.variance, 1e-18));
    const double reach = 6.0 * sd + 1e-9;
    lo = std::min(lo, part.mean - reach);
    hi = std::max(hi, part.mean + reach);
    parts.push_back({part.weight, part.mean, 1.0 / (sd * std::numbers::sqrt2)});
  }
  out.lo95 = quantile(parts, level / 2.0, lo, hi, std::max(lo, out.mean - 1.96 * out.sd));
  out.hi95 = quantile(parts, 1.0 - level / 2.0, lo, hi, std::min(hi, out.mean + 1.96 * out.sd));
  // A part of little weight far off may draw the mean out of the central 95 %: it still holds it.
  out.lo95 = std::min(out.lo95, out.mean);
  out.hi95 = std::max(out.hi95, out.mean);
  return out;
}

}  // namespace bothways::numeric
