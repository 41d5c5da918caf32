// docs/method.md, eq. (7.4): the mixture of a contrast; slope + receiver = common.
#include "bothways/pair/contrast_mixture.hpp"

#include "bothways/numeric/square.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

using numeric::square;

/// A mixture of some tens of parts on fixed variances, each part shared by the two next to it: continuous, so
/// that rounding changes nothing that is told.
numeric::Mixture reduced(const numeric::Mixture& parts) {
  constexpr double bins_a_unit = 8.0;  // of the logarithm of the variance
  const auto [least, most] = std::minmax_element(
      parts.begin(), parts.end(), [](const auto& a, const auto& b) { return a.variance < b.variance; });
  const auto place_of = [](double variance) { return bins_a_unit * std::log(std::max(variance, 1e-18)); };
  const auto first = static_cast<long>(std::floor(place_of(least->variance)));
  const auto last = static_cast<long>(std::floor(place_of(most->variance))) + 1;
  std::vector<numeric::NormalPart> bins(static_cast<std::size_t>(last - first + 1));
  double sum = 0.0;
  for (const auto& part : parts) {
    const double place = place_of(part.variance);
    const auto below = static_cast<long>(std::floor(place));
    const double above_share = place - static_cast<double>(below);
    for (const long at : {below, below + 1}) {
      const double weight = part.weight * (at == below ? 1.0 - above_share : above_share);
      auto& bin = bins[static_cast<std::size_t>(at - first)];
      bin.weight += weight;
      bin.mean += weight * part.mean;
      bin.variance += weight * square(part.mean);
    }
    sum += part.weight;
  }
  numeric::Mixture out;
  for (long at = first; at <= last; ++at) {
    const auto& bin = bins[static_cast<std::size_t>(at - first)];
    if (bin.weight > 1e-12 * sum) {
      const double mean = bin.mean / bin.weight;
      const double spread = std::max(0.0, bin.variance / bin.weight - square(mean));
      out.push_back({bin.weight / sum, mean, std::exp(static_cast<double>(at) / bins_a_unit) + spread});
    }
  }
  return out;
}

}  // namespace

Estimate estimate_of(const numeric::Mixture& parts) {
  const auto summary = numeric::summarise(parts);
  return {summary.mean, summary.sd, summary.lo95, summary.hi95};
}

double p_value_of(const numeric::Mixture& parts) {
  double below = 0.0;
  double above = 0.0;
  for (const auto& part : parts) {
    const double u = part.mean / std::sqrt(2.0 * std::max(part.variance, 1e-18));
    below += part.weight * 0.5 * std::erfc(u);
    above += part.weight * 0.5 * std::erfc(-u);
  }
  return std::min(1.0, 2.0 * std::min(below, above));
}

numeric::Mixture mixture_of(const MixedPosterior& posterior, const Contrast& contrast, double common) {
  numeric::Mixture parts;
  for (const auto& node : posterior.nodes) {
    parts.push_back({node.weight, mean_of(node, contrast), variance_of(node, contrast) + common});
  }
  return reduced(parts);
}

numeric::Mixture scatter_mixture(const MixedPosterior& posterior) {
  numeric::Mixture parts;
  for (const auto& node : posterior.nodes) {
    parts.push_back(
        {node.weight, 0.0,
         square(node.scatter.pair_s) + square(node.scatter.block_s) + square(node.scatter.day_s)});
  }
  return reduced(parts);
}

}  // namespace bothways
