// docs/method.md, eq. (7.3): weight of a node.
#include "bothways/pair/mixed_model.hpp"

#include "bothways/numeric/square.hpp"
#include "bothways/pair/scatter_grid.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

using numeric::square;

constexpr int pair_nodes = 20;
constexpr int other_nodes = 7;

void normalise(MixedPosterior& posterior, const std::vector<double>& log_weights) {
  const double most = *std::max_element(log_weights.begin(), log_weights.end());
  double sum = 0.0;
  for (std::size_t i = 0; i < log_weights.size(); ++i) {
    posterior.nodes[i].weight = std::exp(log_weights[i] - most);
    sum += posterior.nodes[i].weight;
  }
  for (auto& node : posterior.nodes) {
    node.weight /= sum;
    posterior.rms.pair_s += node.weight * square(node.scatter.pair_s);
    posterior.rms.block_s += node.weight * square(node.scatter.block_s);
    posterior.rms.day_s += node.weight * square(node.scatter.day_s);
  }
  posterior.rms = {std::sqrt(posterior.rms.pair_s), std::sqrt(posterior.rms.block_s),
                   std::sqrt(posterior.rms.day_s)};
}

using Axes = std::array<Axis, 3>;  // pair, block, day

std::vector<double> sds_of(const std::vector<Weighed>& grid) {
  std::vector<double> sds(grid.size());
  std::transform(grid.begin(), grid.end(), sds.begin(), [](const Weighed& node) { return node.sd; });
  return sds;
}

MixedPosterior posterior_on(const Nest& nest, const Axes& axes) {
  const std::array grids{grid_of(axes[0]), grid_of(axes[1]), grid_of(axes[2])};
  const std::vector<Solved> solved =
      solve(nest, ScatterValues{sds_of(grids[0]), sds_of(grids[1]), sds_of(grids[2])});
  MixedPosterior posterior;
  std::vector<double> log_weights;
  posterior.nodes.reserve(solved.size());
  log_weights.reserve(solved.size());
  auto node = solved.begin();
  for (const Weighed& pair : grids[0]) {
    for (const Weighed& block : grids[1]) {
      for (const Weighed& day : grids[2]) {
        posterior.nodes.push_back({0.0, {pair.sd, block.sd, day.sd}, node->mean, node->covariance});
        log_weights.push_back(node->log_likelihood + pair.log_weight + block.log_weight + day.log_weight);
        ++node;
      }
    }
  }
  normalise(posterior, log_weights);
  return posterior;
}

/// Weights of the nodes of each axis, over all nodes of the others.
std::array<std::vector<double>, 3> marginals_of(const MixedPosterior& posterior, const Axes& axes) {
  std::array<std::vector<double>, 3> marginals;
  const auto n1 = static_cast<std::size_t>(axes[1].count);
  const auto n2 = static_cast<std::size_t>(axes[2].count);
  for (std::size_t k = 0; k < marginals.size(); ++k) {
    marginals[k].assign(static_cast<std::size_t>(axes[k].count), 0.0);
  }
  for (std::size_t i = 0; i < posterior.nodes.size(); ++i) {
    const double weight = posterior.nodes[i].weight;
    marginals[0][i / (n1 * n2)] += weight;
    marginals[1][i / n2 % n1] += weight;
    marginals[2][i % n2] += weight;
  }
  return marginals;
}

}  // namespace

double mean_of(const MixedPosterior::Node& node, const Contrast& contrast) {
  return contrast[0] * node.mean[0] + contrast[1] * node.mean[1];
}

double variance_of(const MixedPosterior::Node& node, const Contrast& contrast) {
  const auto& c = node.covariance;
  return square(contrast[0]) * c[0][0] + square(contrast[1]) * c[1][1] +
         contrast[0] * contrast[1] * (c[0][1] + c[1][0]);
}

MixedPosterior mixed_posterior(std::span<const Outcome> outcomes, const ScatterPrior& prior, int sides) {
  const Nest nest = nest_of(outcomes, sides);
  const double seen = spread_of(nest);
  // What one day does to both sides alike is seen in neither their difference nor their scatter.
  const bool one_day = nest.outcomes.front().day == nest.outcomes.back().day;
  const double day_s = sides > 1 && one_day ? 0.0 : prior.day_s;
  Axes axes{whole_axis(prior.pair_s, seen, pair_nodes), whole_axis(prior.block_s, seen, other_nodes),
            whole_axis(day_s, seen, other_nodes)};
  // Many outcomes leave only a small part of the axes: look where it is, then closer.
  for (int look = 0; look < 2; ++look) {
    const auto marginals = marginals_of(posterior_on(nest, axes), axes);
    for (std::size_t k = 0; k < axes.size(); ++k) {
      axes[k] = zoomed(axes[k], marginals[k]);
    }
  }
  return posterior_on(nest, axes);
}

}  // namespace bothways
