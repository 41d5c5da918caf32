// docs/method.md, eq. (5.8): 0.014 s = filter_discrepancy_sd_s, 0.06 h = dead_band_sd_s, tau = lag_s.
#include "bothways/launch/posterior.hpp"

#include "bothways/launch/forward_pass.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numeric>
#include <optional>
#include <utility>

namespace bothways {

namespace {

constexpr double least_instant_weight = 3e-3;
constexpr double negligible = 8.0;            // of log likelihood below the best
constexpr double hopeless_instant = 14.0;     // likewise: beyond it the likelihood only falls
constexpr double hopeless_hypothesis = 40.0;  // likewise: its coarse grid will do
// Eq. (5.8): none of the filters is the true one (decision 0053).
constexpr double discrepancy_share = 0.1;         // of its time constant
constexpr double fading_discrepancy_share = 0.2;  // of one that fades: how it does is only guessed
constexpr double share_at_marks = 0.5;            // of that, where the clock starts at a mark
constexpr double not_asked = -std::numeric_limits<double>::infinity();

/// Instants at the middles of equal parts of a range, and log p(readings | each): -infinity where it was not
/// asked.
struct Scan {
  std::vector<double> t0_s;
  std::vector<double> log_likelihood;
  double spacing_s = 0.0;
};

/// All instants of a range, none of them asked yet.
Scan instants_of(double from_s, double to_s, int points) {
  Scan out;
  out.spacing_s = (to_s - from_s) / points;
  for (int i = 0; i < points; ++i) {
    out.t0_s.push_back(from_s + out.spacing_s * (i + 0.5));
  }
  out.log_likelihood.assign(out.t0_s.size(), not_asked);
  return out;
}

double best_of(const Scan& s) {
  return *std::max_element(s.log_likelihood.begin(), s.log_likelihood.end());
}

std::size_t best_place(const Scan& s) {
  return static_cast<std::size_t>(std::max_element(s.log_likelihood.begin(), s.log_likelihood.end()) -
                                  s.log_likelihood.begin());
}

void ask(const BackwardPass& pass, const LaunchShape& shape, Scan& s, std::size_t i) {
  s.log_likelihood[i] = launch_log_likelihood(pass, shape, s.t0_s[i]);
}

Scan scan(const BackwardPass& pass, const LaunchShape& shape, double from_s, double to_s, int points) {
  Scan out = instants_of(from_s, to_s, points);
  for (std::size_t i = 0; i < out.t0_s.size(); ++i) {
    ask(pass, shape, out, i);
  }
  return out;
}

/// Outwards from an instant near the best one, until two in a row are hopeless.
Scan scan_from(const BackwardPass& pass, const LaunchShape& shape, Scan out, std::size_t near) {
  ask(pass, shape, out, near);
  double best = out.log_likelihood[near];
  const auto walk = [&](auto next) {
    int hopeless = 0;
    for (std::size_t i = next(near); i < out.t0_s.size() && hopeless < 2; i = next(i)) {
      ask(pass, shape, out, i);
      best = std::max(best, out.log_likelihood[i]);
      hopeless = out.log_likelihood[i] < best - hopeless_instant ? hopeless + 1 : 0;
    }
  };
  walk([](std::size_t i) { return i + 1; });
  walk([](std::size_t i) { return i - 1; });  // below 0 is above all
  return out;
}

/// A fine grid where the weight of the coarse one is; the coarse one itself where that would be no finer.
Scan refined(const BackwardPass& pass, const LaunchShape& shape, Scan coarse, int points) {
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
  from_s = std::max(from_s, range.earliest_s);
  to_s = std::min(to_s, range.latest_s);
  return to_s - from_s < coarse.spacing_s * points ? scan(pass, shape, from_s, to_s, points) : coarse;
}

/// The posteriors of one window's launch instant under hypotheses that are asked one after the other: the
/// backward pass is made anew where they differ by more than their shape, and the search begins where the one
/// before ended.
class InstantSearch {
 public:
  InstantSearch(const LaunchWindow& window, const LaunchModel& model, const LaunchGrid& grid)
      : window_(window), model_(model), grid_(grid) {}

  const BackwardPass& pass_of(const LaunchHypothesis& h) {
    if (!pass_ || h.filter != filter_ || h.early_jerk_factor != early_jerk_factor_) {
      pass_.emplace(backward_pass(window_, model_, h));
      filter_ = h.filter;
      early_jerk_factor_ = h.early_jerk_factor;
    }
    return *pass_;
  }

  InstantPosterior operator()(const LaunchHypothesis& h) {
    const BackwardPass& pass = pass_of(h);
    Scan s = coarse(pass, h.shape);
    near_ = best_place(s);
    const double best = best_of(s);
    best_ = std::max(best_, best);
    if (grid_.fine > 0 && best > best_ - hopeless_hypothesis) {
      s = refined(pass, h.shape, std::move(s), grid_.fine);
    }
    return posterior_of(std::move(s));
  }

 private:
  [[nodiscard]] Scan coarse(const BackwardPass& pass, const LaunchShape& shape) const {
    const LaunchRange& range = window_.range;
    return near_ ? scan_from(pass, shape, instants_of(range.earliest_s, range.latest_s, grid_.coarse), *near_)
                 : scan(pass, shape, range.earliest_s, range.latest_s, grid_.coarse);
  }

  static InstantPosterior posterior_of(Scan s) {
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

  const LaunchWindow& window_;
  const LaunchModel& model_;
  LaunchGrid grid_;
  std::optional<BackwardPass> pass_;
  SpeedFilter filter_;
  double early_jerk_factor_ = 1.0;
  double best_ = not_asked;          ///< log likelihood of a coarse instant, of all hypotheses so far
  std::optional<std::size_t> near_;  ///< place of the likeliest coarse instant of the last one
};

/// Model discrepancy: what no candidate of the filter explains, eq. (5.8).
void set_discrepancy(const LaunchModel& model, const SpeedFilter& filter, SmoothedPath& path) {
  const double share = filter.fades() ? fading_discrepancy_share : discrepancy_share;
  const double discrepancy_s = std::hypot(model.filter_discrepancy_sd_s, share * filter.lag_s);
  path.clock_sd_s = std::hypot(discrepancy_s, model.dead_band_sd_s);
  // What both ends have alike drops out, and what fades is not there.
  path.marks_sd_s = share_at_marks * (filter.fades() ? model.filter_discrepancy_sd_s : discrepancy_s);
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
  InstantSearch search(window, model, grid);
  std::vector<InstantPosterior> out;
  out.reserve(hypotheses.size());
  for (const LaunchHypothesis& h : hypotheses) {
    out.push_back(search(h));
  }
  return out;
}

LaunchPosterior launch_posterior(const LaunchWindow& window, const LaunchModel& model,
                                 const std::vector<WeightedHypothesis>& hypotheses, const LaunchGrid& grid) {
  InstantSearch search(window, model, grid);
  LaunchPosterior out;
  out.unseen_creep_s = model.unseen_creep_s;
  out.movement_sd_s = model.movement_sd_s;
  for (const WeightedHypothesis& weighted : hypotheses) {
    const LaunchHypothesis& h = weighted.hypothesis;
    out.parts = std::max(out.parts, weighted.part + 1);
    const InstantPosterior instants = likely_part(search(h));
    const BackwardPass& pass = search.pass_of(h);
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
  InstantSearch search(window, model, grid);
  const InstantPosterior posterior = search(hypothesis);
  const auto best = std::max_element(posterior.weight.begin(), posterior.weight.end());
  return smoothed_path(search.pass_of(hypothesis), hypothesis.shape,
                       posterior.t0_s[static_cast<std::size_t>(best - posterior.weight.begin())]);
}

}  // namespace bothways
