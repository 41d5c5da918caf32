#include "bothways/launch/launch.hpp"

#include "bothways/launch/launch_pass.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <numeric>
#include <utility>

namespace bothways {

namespace {

constexpr double least_weight = 3e-3;
constexpr double negligible = 8.0;  // of log likelihood below the best
constexpr double hopeless = 10.0;

struct Candidate {
  double t0_s = 0.0;
  LaunchTrial trial;
};

const Candidate& likeliest(const std::vector<Candidate>& all) {
  return *std::max_element(all.begin(), all.end(), [](const Candidate& a, const Candidate& b) {
    return a.trial.log_likelihood < b.trial.log_likelihood;
  });
}

double best_of(const std::vector<Candidate>& all) {
  return likeliest(all).trial.log_likelihood;
}

/// Late instants first: they take less to try, and most early ones are then seen to be hopeless soon.
std::vector<Candidate> try_between(const LaunchPass& pass, double lo, double hi, int points) {
  std::vector<Candidate> out(static_cast<std::size_t>(points));
  double best = -std::numeric_limits<double>::infinity();
  for (int i = points; i-- > 0;) {
    Candidate& c = out[static_cast<std::size_t>(i)];
    c.t0_s = lo + (hi - lo) * (i + 0.5) / points;
    c.trial = try_launch(pass, c.t0_s, best - hopeless);
    best = std::max(best, c.trial.log_likelihood);
  }
  return out;
}

Candidate try_at(const LaunchPass& pass, const LaunchRange& range, int points, int i, double floor) {
  const double t0 = range.earliest_s + (range.latest_s - range.earliest_s) * (i + 0.5) / points;
  return {t0, try_launch(pass, t0, floor)};
}

/// The coarse grid from a likely place on to both sides, as far as the likelihood does not fall away.
std::vector<Candidate> try_round(const LaunchPass& pass, const LaunchRange& range, int points,
                                 double near_s) {
  const double place = (near_s - range.earliest_s) / (range.latest_s - range.earliest_s) * points;
  int hi = std::clamp(static_cast<int>(place), 0, points - 1);
  int lo = hi;
  std::vector<Candidate> out{try_at(pass, range, points, hi, -std::numeric_limits<double>::infinity())};
  double best = out.front().trial.log_likelihood;
  while (hi + 1 < points && out.back().trial.log_likelihood > best - negligible) {
    out.push_back(try_at(pass, range, points, ++hi, best - hopeless));
    best = std::max(best, out.back().trial.log_likelihood);
  }
  std::reverse(out.begin(), out.end());
  while (lo > 0 && out.back().trial.log_likelihood > best - negligible) {
    out.push_back(try_at(pass, range, points, --lo, best - hopeless));
    best = std::max(best, out.back().trial.log_likelihood);
  }
  std::reverse(out.begin(), out.end());
  return out;
}

/// A fine grid where the weight of the coarse one is.
std::vector<Candidate> refined(const LaunchPass& pass, const LaunchRange& range, const LaunchGrid& grid,
                               const std::vector<Candidate>& coarse) {
  const double best = best_of(coarse);
  const double width = (range.latest_s - range.earliest_s) / grid.coarse;
  double lo = range.latest_s;
  double hi = range.earliest_s;
  for (const Candidate& c : coarse) {
    if (c.trial.log_likelihood > best - negligible) {
      lo = std::min(lo, c.t0_s - width);
      hi = std::max(hi, c.t0_s + width);
    }
  }
  return try_between(pass, std::max(lo, range.earliest_s), std::min(hi, range.latest_s), grid.fine);
}

/// Coarse grid, then a fine one where the weight is.
std::vector<Candidate> scan(const LaunchPass& pass, const LaunchRange& range, const LaunchGrid& grid) {
  const std::vector<Candidate> coarse = try_between(pass, range.earliest_s, range.latest_s, grid.coarse);
  return grid.fine > 0 ? refined(pass, range, grid, coarse) : coarse;
}

double spacing_of(const std::vector<Candidate>& all) {
  return all.size() > 1 ? all[1].t0_s - all[0].t0_s : 1.0;
}

/// Likelihoods, of the likeliest: 1 for that.
std::vector<double> relative_likelihoods(const std::vector<Candidate>& all) {
  const double best = best_of(all);
  std::vector<double> out;
  out.reserve(all.size());
  for (const Candidate& c : all) {
    out.push_back(std::exp(c.trial.log_likelihood - best));
  }
  return out;
}

double sum_of(const std::vector<double>& x) {
  return std::accumulate(x.begin(), x.end(), 0.0);
}

double log_evidence(const std::vector<Candidate>& all, double spacing_s) {
  return best_of(all) + std::log(sum_of(relative_likelihoods(all)) * spacing_s);
}

double mean_t0_s(const std::vector<Candidate>& all) {
  const std::vector<double> weights = relative_likelihoods(all);
  double moment = 0.0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    moment += weights[i] * all[i].t0_s;
  }
  return moment / sum_of(weights);
}

/// Whether a fine grid would be finer than the coarse one.
bool is_finer(const LaunchGrid& grid, const std::vector<Candidate>& coarse) {
  const double best = best_of(coarse);
  return std::count_if(coarse.begin(), coarse.end(), [&](const Candidate& c) {
           return c.trial.log_likelihood > best - negligible;
         }) < grid.fine;
}

struct LikelyInstant {
  const Candidate* candidate = nullptr;
  double weight = 0.0;
};

/// The likely launch instants; not `all`: the likeliest alone.
std::vector<LikelyInstant> likely(const std::vector<Candidate>& candidates, bool all) {
  const std::vector<double> relative = relative_likelihoods(candidates);
  const double sum = sum_of(relative);
  std::vector<LikelyInstant> out;
  double kept = 0.0;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    const double weight = relative[i] / sum;
    if (all ? weight > least_weight : out.empty() && relative[i] == 1.0) {
      out.push_back({&candidates[i], weight});
      kept += weight;
    }
  }
  for (LikelyInstant& instant : out) {
    instant.weight /= kept;
  }
  return out;
}

/// The likely launch instants and the motion after each, but for those lighter than `lightest`.
LaunchFit fit_of(const LaunchPass& pass, const std::shared_ptr<const LaunchTimes>& times,
                 const std::vector<Candidate>& candidates, bool all, double lightest) {
  LaunchFit fit;
  fit.times = times;
  fit.unseen_creep_s = pass.model->unseen_creep_s;
  fit.spacing_s = spacing_of(candidates);
  fit.log_evidence = log_evidence(candidates, spacing_of(candidates));
  const Candidate* best = &likeliest(candidates);
  for (const LikelyInstant& instant : likely(candidates, all)) {
    if (instant.weight >= lightest || instant.candidate == best) {
      LaunchNode& node = fit.nodes.emplace_back();
      node.t0_s = instant.candidate->t0_s;
      node.weight = instant.weight;
      trace_launch(pass, *times, instant.candidate->trial, node);
    }
  }
  return fit;
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
  return try_launch(prepare_launch(readings, model, range, model.shape.length_s()), t0_s).log_likelihood;
}

std::vector<ShapeEvidence> shape_evidence(const std::vector<Reading>& readings, LaunchModel model,
                                          const LaunchRange& range, const std::vector<LaunchShape>& shapes,
                                          const LaunchGrid& grid, std::optional<double>& near_s) {
  double longest_s = 0.0;
  for (const LaunchShape& shape : shapes) {
    longest_s = std::max(longest_s, shape.length_s());
  }
  const LaunchPass pass = prepare_launch(readings, model, range, longest_s);  // knows nothing of the shape
  const double spacing_s = (range.latest_s - range.earliest_s) / grid.coarse;
  std::vector<ShapeEvidence> out;
  for (const LaunchShape& shape : shapes) {
    model.shape = shape;
    const std::vector<Candidate> coarse =
        near_s ? try_round(pass, range, grid.coarse, *near_s)
               : try_between(pass, range.earliest_s, range.latest_s, grid.coarse);
    near_s = likeliest(coarse).t0_s;
    if (is_finer(grid, coarse)) {
      const std::vector<Candidate> fine = refined(pass, range, grid, coarse);
      out.push_back({log_evidence(fine, spacing_of(fine)), mean_t0_s(fine)});
    } else {
      out.push_back({log_evidence(coarse, spacing_s), mean_t0_s(coarse)});
    }
  }
  return out;
}

double mean_launch_s(const std::vector<Reading>& readings, const LaunchModel& model,
                     const LaunchRange& range) {
  return mean_t0_s(scan(prepare_launch(readings, model, range), range, {}));
}

LaunchFit fit_launch(const std::vector<Reading>& readings, const LaunchModel& model, const LaunchRange& range,
                     const LaunchGrid& grid) {
  return std::move(fit_launches(readings, model, range, {{model.shape}}, grid).front());
}

std::vector<LaunchFit> fit_launches(const std::vector<Reading>& readings, LaunchModel model,
                                    const LaunchRange& range, const std::vector<SoughtShape>& shapes,
                                    const LaunchGrid& grid) {
  const LaunchPass pass = prepare_launch(readings, model, range);  // knows nothing of the shape
  const auto times = std::make_shared<const LaunchTimes>(times_of(pass));
  std::vector<LaunchFit> out;
  for (const SoughtShape& sought : shapes) {
    model.shape = sought.shape;
    out.push_back(fit_of(pass, times, scan(pass, range, grid), grid.all, sought.lightest));
  }
  return out;
}

}  // namespace bothways
