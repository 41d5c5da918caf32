#include "bothways/run/launch.hpp"

#include "bothways/run/launch_pass.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

namespace {

constexpr double least_weight = 3e-3;
constexpr double negligible = 8.0;  // of log likelihood below the best

struct Candidate {
  double t0_s = 0.0;
  LaunchTrial trial;
};

std::vector<Candidate> try_between(const LaunchPass& pass, double lo, double hi, int points) {
  std::vector<Candidate> out;
  for (int i = 0; i < points; ++i) {
    const double t0 = lo + (hi - lo) * (i + 0.5) / points;
    out.push_back({t0, try_launch(pass, t0)});
  }
  return out;
}

double best_of(const std::vector<Candidate>& all) {
  double best = all.front().trial.log_likelihood;
  for (const Candidate& c : all) {
    best = std::max(best, c.trial.log_likelihood);
  }
  return best;
}

/// Coarse grid, then a fine one where the weight is.
std::vector<Candidate> scan(const LaunchPass& pass, const LaunchRange& range, const LaunchGrid& grid) {
  std::vector<Candidate> all = try_between(pass, range.earliest_s, range.latest_s, grid.coarse);
  if (grid.fine <= 0) {
    return all;
  }
  const double best = best_of(all);
  const double width = (range.latest_s - range.earliest_s) / grid.coarse;
  double lo = range.latest_s;
  double hi = range.earliest_s;
  for (const Candidate& c : all) {
    if (c.trial.log_likelihood > best - negligible) {
      lo = std::min(lo, c.t0_s - width);
      hi = std::max(hi, c.t0_s + width);
    }
  }
  return try_between(pass, std::max(lo, range.earliest_s), std::min(hi, range.latest_s), grid.fine);
}

double spacing_of(const std::vector<Candidate>& all) {
  return all.size() > 1 ? all[1].t0_s - all[0].t0_s : 1.0;
}

double log_evidence(const std::vector<Candidate>& all) {
  const double best = best_of(all);
  double sum = 0.0;
  for (const Candidate& c : all) {
    sum += std::exp(c.trial.log_likelihood - best);
  }
  return best + std::log(sum * spacing_of(all));
}

}  // namespace

double LaunchShape::at(double tau_s) const {
  const double place = tau_s / step_s;
  if (place <= 0.0) {
    return a_mps2.front();
  }
  const auto below = static_cast<std::size_t>(place);
  if (below + 1 >= a_mps2.size()) {
    return a_mps2.back();
  }
  return a_mps2[below] + (place - static_cast<double>(below)) * (a_mps2[below + 1] - a_mps2[below]);
}

double launch_log_likelihood(const std::vector<Reading>& readings, const LaunchModel& model,
                             const LaunchRange& range, double t0_s) {
  return try_launch(prepare_launch(readings, model, range), t0_s).log_likelihood;
}

std::vector<double> shape_evidence(const std::vector<Reading>& readings, LaunchModel model,
                                   const LaunchRange& range, const std::vector<LaunchShape>& shapes,
                                   const LaunchGrid& grid) {
  const LaunchPass pass = prepare_launch(readings, model, range);  // knows nothing of the shape
  std::vector<double> out;
  for (const LaunchShape& shape : shapes) {
    model.shape = shape;
    out.push_back(log_evidence(scan(pass, range, grid)));
  }
  return out;
}

LaunchFit fit_launch(const std::vector<Reading>& readings, const LaunchModel& model, const LaunchRange& range,
                     const LaunchGrid& grid) {
  LaunchPass pass = prepare_launch(readings, model, range);
  const std::vector<Candidate> candidates = scan(pass, range, grid);
  const double best = best_of(candidates);
  double sum = 0.0;
  for (const Candidate& c : candidates) {
    sum += std::exp(c.trial.log_likelihood - best);
  }
  LaunchFit fit;
  fit.unseen_creep_s = model.unseen_creep_s;
  fit.spacing_s = spacing_of(candidates);
  fit.log_evidence = log_evidence(candidates);
  double kept = 0.0;
  for (const Candidate& c : candidates) {
    const double weight = std::exp(c.trial.log_likelihood - best) / sum;
    if (weight > least_weight) {
      LaunchNode node;
      node.t0_s = c.t0_s;
      node.weight = weight;
      kept += weight;
      if (grid.trace) {
        trace_launch(pass, c.trial, node);
      }
      fit.nodes.push_back(std::move(node));
    }
  }
  for (LaunchNode& node : fit.nodes) {
    node.weight /= kept;
  }
  fit.t_s = std::move(pass.t_s);
  fit.reading = std::move(pass.reading);
  fit.forward = std::move(pass.forward);
  return fit;
}

}  // namespace bothways
