// docs/method.md, section 5: eq. (5.3) in duration_variance, eq. (5.4) in add_movement (longest_s).
#include "bothways/run/split_times.hpp"

#include "bothways/core/duration.hpp"
#include "bothways/numeric/mixture.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace bothways {

using numeric::NormalPart;
using numeric::State;

namespace {

constexpr double edge_step_mps = 1.0;
constexpr double surely_reached = 0.8;  // probability that a mark was reached; else it is no split

Level level_of(const Mark& mark) {
  if (const auto* speed = std::get_if<Speed>(&mark)) {
    return {numeric::i_v, speed->mps()};
  }
  return {numeric::i_s, std::get<Length>(mark).m()};
}

Estimate to_estimate(const std::vector<NormalPart>& mixture) {
  const numeric::MixtureSummary s = numeric::summarise(mixture);
  return as_duration({s.mean, s.sd, s.lo95, s.hi95});
}

/// A split over the paths gone through; a mark counts if most of the weight reaches it.
struct SplitMixture {
  std::vector<NormalPart> rollout;
  std::vector<NormalPart> movement;
  double reached = 0.0;
};

void normalise(std::vector<NormalPart>& mixture, double total) {
  for (NormalPart& part : mixture) {
    part.weight /= total;
  }
}

std::vector<Level> edge_levels(const SmoothedPath& likeliest, const std::vector<SplitSpec>& splits,
                               double from_mps) {
  double top = 0.0;
  for (const State& x : likeliest.mean) {
    top = std::max(top, x(numeric::i_v));
  }
  std::vector<double> speeds;
  const auto first = static_cast<int>(std::ceil((from_mps + 0.3) / edge_step_mps));
  for (int step = first; step * edge_step_mps < top; ++step) {
    speeds.push_back(step * edge_step_mps);
  }
  for (const SplitSpec& split : splits) {
    for (const Mark* mark : {&split.from, &split.to}) {
      const Level level = level_of(*mark);
      if (level.row == numeric::i_v && level.value > from_mps + 0.3) {
        speeds.push_back(level.value);
      }
    }
  }
  std::sort(speeds.begin(), speeds.end());
  std::vector<Level> levels;
  for (const double v : speeds) {
    if (levels.empty() || v > levels.back().value + 1e-6) {
      levels.push_back({numeric::i_v, v});
    }
  }
  return levels;
}

struct EdgeMixture {
  std::vector<NormalPart> t;
  double s_m = 0.0;
  double reached = 0.0;
};

/// A time from (way = 1) or of (way = -1) first movement: half the probability that it was as fitted, half
/// that the vehicle had crept unseen before, evenly up to the longest time that stays unseen.
void add_movement(const SmoothedPath& path, double weight, double longest_s, double t_s, double variance,
                  double way, std::vector<NormalPart>& out) {
  constexpr int creeps = 3;
  const double grid = path.launch_width_s * path.launch_width_s / 12.0;
  out.push_back({0.5 * weight, t_s, variance + grid});
  for (int i = 0; i < creeps; ++i) {
    const double creep = longest_s * (i + 0.5) / creeps;
    const double width = longest_s / creeps;
    out.push_back({0.5 * weight / creeps, t_s + way * creep, variance + grid + width * width / 12.0});
  }
}

Curve curve_of(const SmoothedPath& path, double clock_s, double end_s) {
  const auto points = static_cast<std::size_t>(
      std::upper_bound(path.t_s.begin(), path.t_s.end(), end_s + 1e-9) - path.t_s.begin());
  Curve curve;
  for (auto* column : {&curve.t_s, &curve.v_mps, &curve.sd_mps, &curve.a_mps2, &curve.sd_mps2, &curve.s_m}) {
    column->reserve(points);  // a folder's curves are all kept: no room to spare
  }
  for (std::size_t i = 0; i < points; ++i) {
    curve.t_s.push_back(path.t_s[i] - clock_s);
    curve.v_mps.push_back(path.mean[i](numeric::i_v));
    curve.sd_mps.push_back(std::sqrt(std::max(0.0, path.cov[i](numeric::i_v, numeric::i_v))));
    curve.a_mps2.push_back(path.mean[i](numeric::i_a));
    curve.sd_mps2.push_back(std::sqrt(std::max(0.0, path.cov[i](numeric::i_a, numeric::i_a))));
    curve.s_m.push_back(path.mean[i](numeric::i_s));
  }
  return curve;
}

/// Variance of the time from one crossing to a later one; eq. (5.3).
double duration_variance(const SmoothedPath& path, const Crossing& from, const Crossing& to) {
  const double cov = crossing_covariances(path, from, {to}).front();
  return std::max(0.0, crossing_variance(path, to) + crossing_variance(path, from) - 2.0 * cov);
}

constexpr Level foot{numeric::i_s, rollout_m};

/// Everything that grows while the paths are gone through.
struct Timing {
  const std::vector<SplitSpec>& splits;
  double end_s = 0.0;
  double unseen_creep_s = 0.0;
  double foot_speed_mps = 1.0;  ///< on the likeliest path
  std::vector<Level> levels;
  std::vector<SplitMixture> times;
  std::vector<EdgeMixture> edges;
  std::vector<NormalPart> clock;
  std::vector<NormalPart> movement;
  double clock_weight = 0.0;
};

/// The crossings that a split may begin with.
std::vector<LikelyCrossing> beginnings(const SmoothedPath& path, const SplitSpec& split,
                                       const Crossing& rollout, double end_s) {
  if (split.from_rest()) {
    return {{1.0, rollout}};
  }
  return likely_crossings(path, level_of(split.from), end_s);
}

void add_split(const SmoothedPath& path, const Crossing& rollout, std::size_t at, Timing& timing) {
  const SplitSpec& split = timing.splits[at];
  SplitMixture& out = timing.times[at];
  const std::vector<LikelyCrossing> ends = likely_crossings(path, level_of(split.to), timing.end_s);
  for (const LikelyCrossing& from : beginnings(path, split, rollout, timing.end_s)) {
    for (const LikelyCrossing& to : ends) {
      if (to.at.t_s <= from.at.t_s) {
        continue;  // within the first foot: before the clock starts
      }
      const double weight = path.weight * from.probability * to.probability;
      out.rollout.push_back({weight, to.at.t_s - from.at.t_s, duration_variance(path, from.at, to.at)});
      out.reached += weight;
      if (split.from_rest()) {
        add_movement(path, weight, timing.unseen_creep_s, to.at.t_s - path.t_s.front(),
                     crossing_variance(path, to.at), 1.0, out.movement);
      }
    }
  }
}

void add_edges(const SmoothedPath& path, const Crossing& rollout, Timing& timing) {
  std::vector<std::optional<Crossing>> crossings;
  crossings.reserve(timing.levels.size());
  std::size_t from = 0;
  for (const Level& level : timing.levels) {
    crossings.push_back(first_crossing(path, level, timing.end_s, from));
    from = crossings.back() ? crossings.back()->index - 1 : from;
  }
  const std::vector<double> cov = crossing_covariances(path, rollout, crossings);
  const double var_clock = crossing_variance(path, rollout);
  for (std::size_t i = 0; i < crossings.size(); ++i) {
    if (!crossings[i] || crossings[i]->t_s <= rollout.t_s) {
      continue;
    }
    const double var = std::max(0.0, crossing_variance(path, *crossings[i]) + var_clock - 2.0 * cov[i]);
    timing.edges[i].t.push_back({path.weight, crossings[i]->t_s - rollout.t_s, var});
    timing.edges[i].s_m += path.weight * travel_at(path, *crossings[i]);
    timing.edges[i].reached += path.weight;
  }
}

void add_path(const SmoothedPath& path, Timing& timing) {
  add_movement(path, path.weight, timing.unseen_creep_s, path.t_s.front(), 0.0, -1.0, timing.movement);
  const auto rollout = first_crossing(path, foot, timing.end_s);
  if (!rollout) {
    return;
  }
  timing.clock.push_back({path.weight, rollout->t_s, crossing_variance(path, *rollout)});
  timing.clock_weight += path.weight;
  for (std::size_t i = 0; i < timing.splits.size(); ++i) {
    add_split(path, *rollout, i, timing);
  }
  add_edges(path, *rollout, timing);
}

std::vector<Split> splits_of(Timing& timing) {
  std::vector<Split> out;
  for (std::size_t i = 0; i < timing.splits.size(); ++i) {
    SplitMixture& times = timing.times[i];
    if (times.reached < surely_reached) {
      continue;
    }
    const SplitSpec& spec = timing.splits[i];
    normalise(times.rollout, times.reached);
    Split split{spec, to_estimate(times.rollout), {}};
    split.movement = split.rollout;
    if (spec.from_rest()) {
      normalise(times.movement, times.reached);
      split.movement = to_estimate(times.movement);
    }
    out.push_back(std::move(split));
  }
  return out;
}

std::vector<SpeedEdge> edges_of(Timing& timing) {
  std::vector<SpeedEdge> out{{timing.foot_speed_mps, 0.0, 0.0, rollout_m}};
  for (std::size_t i = 0; i < timing.levels.size(); ++i) {
    EdgeMixture& edge = timing.edges[i];
    if (edge.reached < 0.5) {
      continue;
    }
    normalise(edge.t, edge.reached);
    const numeric::MixtureSummary t = numeric::mean_and_sd(edge.t);
    if (t.mean > out.back().t_s) {
      out.push_back({timing.levels[i].value, t.mean, t.sd, edge.s_m / edge.reached});
    }
  }
  return out;
}

}  // namespace

Run timed_run(const LaunchPosterior& posterior, const std::vector<SplitSpec>& splits, Instant window_start,
              double end_s) {
  const SmoothedPath& likeliest = posterior.paths.front();
  Timing timing{.splits = splits, .end_s = end_s, .unseen_creep_s = posterior.unseen_creep_s};
  if (const auto at = first_crossing(likeliest, foot, end_s)) {
    timing.foot_speed_mps = at->slope;
  }
  timing.levels = edge_levels(likeliest, splits, timing.foot_speed_mps);
  timing.times.resize(splits.size());
  timing.edges.resize(timing.levels.size());
  for (const SmoothedPath& path : posterior.paths) {
    add_path(path, timing);
  }
  Run run;
  if (timing.clock_weight <= 0.0) {
    return run;
  }
  normalise(timing.clock, timing.clock_weight);
  const numeric::MixtureSummary clock_at = numeric::mean_and_sd(timing.clock);
  const numeric::MixtureSummary moved_at = numeric::mean_and_sd(timing.movement);
  run.clock_start = shifted(window_start, clock_at.mean);
  run.clock_sd_s = clock_at.sd;
  run.movement = shifted(window_start, moved_at.mean);
  run.movement_sd_s = moved_at.sd;
  run.splits = splits_of(timing);
  run.edges = edges_of(timing);
  run.curve = curve_of(likeliest, clock_at.mean, end_s);
  return run;
}

}  // namespace bothways
