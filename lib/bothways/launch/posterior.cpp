// docs/method.md, eq. (5.8): 0.014 s = filter_discrepancy_sd_s, 0.06 h = dead_band_sd_s, tau = lag_s.
#include "bothways/launch/posterior.hpp"

#include "bothways/launch/forward_pass.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <optional>
#include <utility>

namespace bothways {

namespace {

constexpr double least_instant_weight = 3e-3;
constexpr double negligible = 8.0;  // of log likelihood below the best
// Eq. (5.8): none of the filters is the true one (decision 0053).
constexpr double discrepancy_share = 0.1;  // of its time constant
constexpr double share_at_marks = 0.5;     // of that, where the clock starts at a mark

/// Instants at the middles of equal parts of a range, and log p(readings | each).
struct Scan {
  std::vector<double> t0_s;
  std::vector<double> log_likelihood;
  double spacing_s = 0.0;
};

Scan scan(const BackwardPass& pass, const LaunchShape& shape, double from_s, double to_s, int points) {
  Scan out;
  out.spacing_s = (to_s - from_s) / points;
  for (int i = 0; i < points; ++i) {
    out.t0_s.push_back(from_s + out.spacing_s * (i + 0.5));
    out.log_likelihood.push_back(launch_log_likelihood(pass, shape, out.t0_s.back()));
  }
  return out;
}

double best_of(const Scan& s) {
  return *std::max_element(s.log_likelihood.begin(), s.log_likelihood.end());
}

/// A fine grid where the weight of the coarse one is.
Scan refined(const BackwardPass& pass, const LaunchShape& shape, const Scan& coarse, int points) {
  const LaunchRange& range = pass.window.range;
  const double best = best_of(coarse);
  double from_s = range.latest_s;
  double to_s = range.earliest_s;
  for (std::size_t i = 0; i < coarse.t0_s.size(); ++i) {
    if (coarse.log_likelihood[i] > best - negligible) {
      from_s = std::min(from_s, coarse.t0_s[i] - coarse.spacing_s);
      to_s = std::max(to_s, coarse.t0_s[i] + coarse.spacing_s);
    }
  }
  return scan(pass, shape, std::max(from_s, range.earliest_s), std::min(to_s, range.latest_s), points);
}

InstantPosterior instant_posterior(const BackwardPass& pass, const LaunchShape& shape,
                                   const LaunchGrid& grid) {
  Scan s = scan(pass, shape, pass.window.range.earliest_s, pass.window.range.latest_s, grid.coarse);
  if (grid.fine > 0) {
    s = refined(pass, shape, s, grid.fine);
  }
  const double best = best_of(s);
  InstantPosterior out{std::move(s.t0_s), {}, s.spacing_s, 0.0};
  for (const double log_likelihood : s.log_likelihood) {
    out.weight.push_back(std::exp(log_likelihood - best));
  }
  const double sum = std::accumulate(out.weight.begin(), out.weight.end(), 0.0);
  out.log_evidence = best + std::log(sum * out.spacing_s);
  for (double& weight : out.weight) {
    weight /= sum;
  }
  return out;
}

/// The backward pass of hypotheses that are asked one after the other: made anew where they differ by more
/// than their shape.
class PassOf {
 public:
  PassOf(const LaunchWindow& window, const LaunchModel& model) : window_(window), model_(model) {}

  const BackwardPass& operator()(const LaunchHypothesis& h) {
    if (!pass_ || h.filter != filter_ || h.early_jerk_factor != early_jerk_factor_) {
      pass_.emplace(backward_pass(window_, model_, h));
      filter_ = h.filter;
      early_jerk_factor_ = h.early_jerk_factor;
    }
    return *pass_;
  }

 private:
  const LaunchWindow& window_;
  const LaunchModel& model_;
  std::optional<BackwardPass> pass_;
  SpeedFilter filter_;
  double early_jerk_factor_ = 1.0;
};

/// Model discrepancy: what no candidate of the filter explains, eq. (5.8).
void set_discrepancy(const LaunchModel& model, const SpeedFilter& filter, SmoothedPath& path) {
  const double discrepancy_s = std::hypot(model.filter_discrepancy_sd_s, discrepancy_share * filter.lag_s);
  path.clock_sd_s = std::hypot(discrepancy_s, model.dead_band_sd_s);
  path.marks_sd_s = share_at_marks * discrepancy_s;  // what both ends have alike drops out
}

/// The likely instants, their weights summing to 1.
InstantPosterior likely_part(const InstantPosterior& all) {
  InstantPosterior out{{}, {}, all.spacing_s, all.log_evidence};
  double kept = 0.0;
  for (std::size_t i = 0; i < all.t0_s.size(); ++i) {
    if (all.weight[i] > least_instant_weight) {
      out.t0_s.push_back(all.t0_s[i]);
      out.weight.push_back(all.weight[i]);
      kept += all.weight[i];
    }
  }
  for (double& weight : out.weight) {
    weight /= kept;
  }
  return out;
}

}  // namespace

double InstantPosterior::mean_s() const {
  return std::inner_product(t0_s.begin(), t0_s.end(), weight.begin(), 0.0);
}

std::vector<InstantPosterior> instant_posteriors(const LaunchWindow& window, const LaunchModel& model,
                                                 const std::vector<LaunchHypothesis>& hypotheses,
                                                 const LaunchGrid& grid) {
  PassOf pass_of(window, model);
  std::vector<InstantPosterior> out;
  out.reserve(hypotheses.size());
  for (const LaunchHypothesis& h : hypotheses) {
    out.push_back(instant_posterior(pass_of(h), h.shape, grid));
  }
  return out;
}

LaunchPosterior launch_posterior(const LaunchWindow& window, const LaunchModel& model,
                                 const std::vector<WeightedHypothesis>& hypotheses, const LaunchGrid& grid) {
  PassOf pass_of(window, model);
  LaunchPosterior out;
  out.unseen_creep_s = model.unseen_creep_s;
  out.movement_sd_s = model.movement_sd_s;
  for (const WeightedHypothesis& weighted : hypotheses) {
    const LaunchHypothesis& h = weighted.hypothesis;
    out.parts = std::max(out.parts, weighted.part + 1);
    const BackwardPass& pass = pass_of(h);
    const InstantPosterior instants = likely_part(instant_posterior(pass, h.shape, grid));
    for (std::size_t i = 0; i < instants.t0_s.size(); ++i) {
      const double weight = weighted.weight * instants.weight[i];
      if (weight >= least_path_weight) {
        out.paths.push_back(smoothed_path(pass, h.shape, instants.t0_s[i]));
        out.paths.back().weight = weight;
        out.paths.back().part = weighted.part;
        set_discrepancy(model, h.filter, out.paths.back());
        out.paths.back().launch_width_s = instants.spacing_s;
      }
    }
  }
  std::stable_sort(out.paths.begin(), out.paths.end(),
                   [](const SmoothedPath& a, const SmoothedPath& b) { return a.weight > b.weight; });
  return out;
}

SmoothedPath likeliest_path(const LaunchWindow& window, const LaunchModel& model,
                            const LaunchHypothesis& hypothesis, const LaunchGrid& grid) {
  const BackwardPass pass = backward_pass(window, model, hypothesis);
  const InstantPosterior posterior = instant_posterior(pass, hypothesis.shape, grid);
  const auto best = std::max_element(posterior.weight.begin(), posterior.weight.end());
  return smoothed_path(pass, hypothesis.shape,
                       posterior.t0_s[static_cast<std::size_t>(best - posterior.weight.begin())]);
}

}  // namespace bothways
