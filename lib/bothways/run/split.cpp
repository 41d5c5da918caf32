#include "bothways/run/split.hpp"

#include "bothways/core/duration.hpp"
#include "bothways/launch/path.hpp"
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

/// Mixtures that grow node by node; a mark counts if nearly all of the weight reaches it.
struct Growing {
  std::vector<NormalPart> rollout;
  std::vector<NormalPart> movement;
  double reached = 0.0;
};

void normalise(std::vector<NormalPart>& mixture, double total) {
  for (NormalPart& part : mixture) {
    part.weight /= total;
  }
}

std::vector<Level> edge_levels(const LaunchNode& best, const std::vector<SplitSpec>& splits,
                               double from_mps) {
  double top = 0.0;
  for (const State& x : best.mean) {
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

struct EdgeGrowing {
  std::vector<NormalPart> t;
  double s_m = 0.0;
  double reached = 0.0;
};

/// A time from (way = 1) or of (way = -1) first movement: half the belief that it was as fitted, half that
/// the vehicle had crept unseen before, evenly up to the longest time that stays unseen.
void add_movement(const Path& path, double t_s, double variance, double way, std::vector<NormalPart>& out) {
  constexpr int creeps = 3;
  const double grid = path.fit.spacing_s * path.fit.spacing_s / 12.0;
  const double longest = path.fit.unseen_creep_s;
  out.push_back({0.5 * path.weight, t_s, variance + grid});
  for (int i = 0; i < creeps; ++i) {
    const double creep = longest * (i + 0.5) / creeps;
    const double width = longest / creeps;
    out.push_back({0.5 * path.weight / creeps, t_s + way * creep, variance + grid + width * width / 12.0});
  }
}

void add_split(const Path& path, const SplitSpec& split, const Crossing& rollout, double end_s,
               Growing& out) {
  const double weight = path.weight;
  const auto to = first_crossing(path, level_of(split.to), end_s);
  if (!to) {
    return;
  }
  const double var_to = variance_of(path, *to);
  if (split.from_rest()) {
    if (to->t_s <= rollout.t_s) {
      return;  // within the first foot: before the clock starts
    }
    const double cov = covariances_with(path, rollout, {to}).front();
    const double var = var_to + variance_of(path, rollout) - 2.0 * cov;
    out.rollout.push_back({weight, to->t_s - rollout.t_s, std::max(var, 0.0)});
    add_movement(path, to->t_s - path.node.t0_s, var_to, 1.0, out.movement);
    out.reached += weight;
    return;
  }
  const auto from = first_crossing(path, level_of(split.from), end_s);
  if (!from || from->t_s >= to->t_s) {
    return;
  }
  const double cov = covariances_with(path, *from, {to}).front();
  const double var = var_to + variance_of(path, *from) - 2.0 * cov;
  out.rollout.push_back({weight, to->t_s - from->t_s, std::max(var, 0.0)});
  out.reached += weight;
}

void fill_curve(const LaunchFit& fit, const LaunchNode& best, double clock_s, double end_s, Curve& curve) {
  Path path{fit, best, 1.0, {}};
  fill_covariances(path, path.size() - 1);
  std::size_t points = 0;
  while (points < path.size() && path.t(points) <= end_s + 1e-9) {
    ++points;
  }
  for (auto* column : {&curve.t_s, &curve.v_mps, &curve.sd_mps, &curve.a_mps2, &curve.sd_mps2, &curve.s_m}) {
    column->reserve(points);  // a folder's curves are all kept: no room to spare
  }
  for (std::size_t i = 0; i < points; ++i) {
    curve.t_s.push_back(path.t(i) - clock_s);
    curve.v_mps.push_back(path.mean(i)(numeric::i_v));
    curve.sd_mps.push_back(std::sqrt(std::max(0.0, path.cov[i](numeric::i_v, numeric::i_v))));
    curve.a_mps2.push_back(path.mean(i)(numeric::i_a));
    curve.sd_mps2.push_back(std::sqrt(std::max(0.0, path.cov[i](numeric::i_a, numeric::i_a))));
    curve.s_m.push_back(path.mean(i)(numeric::i_s));
  }
}

const LaunchNode& best_node(const LaunchFit& fit) {
  return *std::max_element(fit.nodes.begin(), fit.nodes.end(),
                           [](const LaunchNode& a, const LaunchNode& b) { return a.weight < b.weight; });
}

/// Everything that grows while the launch instants are gone through.
struct Timing {
  double foot_speed_mps = 1.0;
  double foot_s = 0.0;  ///< on the likeliest path
  std::vector<Level> levels;
  std::vector<Growing> splits;
  std::vector<EdgeGrowing> edges;
  std::vector<NormalPart> clock;
  std::vector<NormalPart> movement;
  double clock_weight = 0.0;
  const LaunchTimes* times = nullptr;  ///< of `onwards`
  Onwards onwards;
};

/// What the paths of the fits with the same times have in common.
void share_times(const std::vector<WeighedFit>& fits, const LaunchTimes& times, Timing& timing) {
  if (timing.times == &times) {
    return;
  }
  std::size_t from = 0;
  for (const WeighedFit& weighed : fits) {
    if (weighed.fit.times.get() == &times) {
      for (const LaunchNode& node : weighed.fit.nodes) {
        from = std::max(from, node.first);
      }
    }
  }
  while (from + 2 < times.t_s.size() && times.t_s[from] < timing.foot_s) {
    ++from;  // most paths have their clock start behind them then
  }
  timing.times = &times;
  timing.onwards = onwards_from(times, from);
}

constexpr Level foot{numeric::i_s, rollout_m};

void add_edges(const Path& path, const Crossing& rollout, double end_s, Timing& timing) {
  std::vector<std::optional<Crossing>> crossings;
  crossings.reserve(timing.levels.size());
  std::size_t from = 0;
  for (const Level& level : timing.levels) {
    crossings.push_back(first_crossing(path, level, end_s, from));
    from = crossings.back() ? crossings.back()->index - 1 : from;
  }
  const std::vector<double> cov = covariances_with(path, rollout, crossings);
  const double var_clock = variance_of(path, rollout);
  for (std::size_t i = 0; i < crossings.size(); ++i) {
    if (!crossings[i] || crossings[i]->t_s <= rollout.t_s) {
      continue;
    }
    const double var = std::max(0.0, variance_of(path, *crossings[i]) + var_clock - 2.0 * cov[i]);
    timing.edges[i].t.push_back({path.weight, crossings[i]->t_s - rollout.t_s, var});
    timing.edges[i].s_m += path.weight * travel_at(path, *crossings[i]);
    timing.edges[i].reached += path.weight;
  }
}

void add_node(const WeighedFit& weighed, const LaunchNode& node, const std::vector<SplitSpec>& splits,
              double end_s, Timing& timing) {
  Path path{weighed.fit, node, weighed.weight * node.weight, {}};
  fill_covariances(path, timing.onwards);
  const auto rollout = first_crossing(path, foot, end_s);
  add_movement(path, node.t0_s, 0.0, -1.0, timing.movement);
  if (!rollout) {
    return;
  }
  timing.clock.push_back({path.weight, rollout->t_s, variance_of(path, *rollout)});
  timing.clock_weight += path.weight;
  for (std::size_t i = 0; i < splits.size(); ++i) {
    add_split(path, splits[i], *rollout, end_s, timing.splits[i]);
  }
  add_edges(path, *rollout, end_s, timing);
}

void fill_splits(Timing& timing, const std::vector<SplitSpec>& splits, Run& run) {
  for (std::size_t i = 0; i < splits.size(); ++i) {
    Growing& grown = timing.splits[i];
    if (grown.reached < 0.5) {
      continue;
    }
    normalise(grown.rollout, grown.reached);
    Split split{splits[i].name, splits[i].from_rest(), to_estimate(grown.rollout), {}};
    split.movement = split.rollout;
    if (split.from_rest) {
      normalise(grown.movement, grown.reached);
      split.movement = to_estimate(grown.movement);
    }
    run.splits.push_back(std::move(split));
  }
}

void fill_edges(Timing& timing, Run& run) {
  run.edges.push_back({timing.foot_speed_mps, 0.0, 0.0, rollout_m});
  for (std::size_t i = 0; i < timing.levels.size(); ++i) {
    EdgeGrowing& edge = timing.edges[i];
    if (edge.reached < 0.5) {
      continue;
    }
    normalise(edge.t, edge.reached);
    const numeric::MixtureSummary t = numeric::mean_and_sd(edge.t);
    if (t.mean > run.edges.back().t_s) {
      run.edges.push_back({timing.levels[i].value, t.mean, t.sd, edge.s_m / edge.reached});
    }
  }
}

}  // namespace

void time_run(const std::vector<WeighedFit>& fits, const std::vector<SplitSpec>& splits, Instant window_start,
              double end_s, Run& run) {
  const LaunchFit& best_fit = fits.front().fit;
  const LaunchNode& best = best_node(best_fit);
  Timing timing;
  if (const auto at = first_crossing(Path{best_fit, best, 1.0, {}}, foot, end_s)) {
    timing.foot_speed_mps = at->slope;
    timing.foot_s = at->t_s;
  }
  timing.levels = edge_levels(best, splits, timing.foot_speed_mps);
  timing.splits.resize(splits.size());
  timing.edges.resize(timing.levels.size());
  for (const WeighedFit& weighed : fits) {
    share_times(fits, *weighed.fit.times, timing);
    for (const LaunchNode& node : weighed.fit.nodes) {
      if (weighed.weight * node.weight < least_path_weight) {
        continue;
      }
      add_node(weighed, node, splits, end_s, timing);
    }
  }
  if (timing.clock_weight <= 0.0) {
    return;
  }
  normalise(timing.clock, timing.clock_weight);
  const numeric::MixtureSummary clock_at = numeric::mean_and_sd(timing.clock);
  const numeric::MixtureSummary moved_at = numeric::mean_and_sd(timing.movement);
  run.clock_start = shifted(window_start, clock_at.mean);
  run.clock_sd_s = clock_at.sd;
  run.movement = shifted(window_start, moved_at.mean);
  run.movement_sd_s = moved_at.sd;
  fill_splits(timing, splits, run);
  fill_edges(timing, run);
  fill_curve(best_fit, best, clock_at.mean, end_s, run.curve);
}

}  // namespace bothways
