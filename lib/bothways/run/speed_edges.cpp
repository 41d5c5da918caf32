#include "bothways/run/speed_edges.hpp"

#include "bothways/core/units.hpp"
#include "bothways/run/crossings.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>

namespace bothways {

namespace {

constexpr double edge_step_mps = 1.0;
constexpr double least_step_mps = 0.3;  // above the speed after the first foot
constexpr double mostly_reached = 0.5;

std::vector<Level> levels_above(const SmoothedPath& likeliest, const std::vector<SplitSpec>& splits,
                                double from_mps) {
  double top = 0.0;
  for (const numeric::State& x : likeliest.mean) {
    top = std::max(top, x(numeric::i_v));
  }
  std::vector<double> speeds;
  const auto first = static_cast<int>(std::ceil((from_mps + least_step_mps) / edge_step_mps));
  for (int step = first; step * edge_step_mps < top; ++step) {
    speeds.push_back(step * edge_step_mps);
  }
  for (const SplitSpec& split : splits) {
    for (const Mark* mark : {&split.from, &split.to}) {
      const Level level = level_of(*mark);
      if (level.row == numeric::i_v && level.value > from_mps + least_step_mps) {
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

}  // namespace

EdgeTimes edge_times(const SmoothedPath& likeliest, const std::vector<SplitSpec>& splits, double end_s) {
  EdgeTimes times;
  if (const auto at = first_crossing(likeliest, first_foot, end_s)) {
    times.foot_speed_mps = at->slope;
  }
  for (const Level& level : levels_above(likeliest, splits, times.foot_speed_mps)) {
    times.edges.push_back({.level = level});
  }
  return times;
}

void add_path(const SmoothedPath& path, const Crossing& rollout, double end_s, EdgeTimes& times) {
  std::vector<std::optional<Crossing>> crossings;
  crossings.reserve(times.edges.size());
  std::size_t from = 0;
  for (const EdgeTimes::Edge& edge : times.edges) {
    crossings.push_back(first_crossing(path, edge.level, end_s, from));
    from = crossings.back() ? crossings.back()->index - 1 : from;
  }
  const std::vector<double> cov = crossing_covariances(path, rollout, crossings);
  const double var_clock = crossing_variance(path, rollout);
  for (std::size_t i = 0; i < crossings.size(); ++i) {
    if (!crossings[i] || crossings[i]->t_s <= rollout.t_s) {
      continue;
    }
    const double var = std::max(0.0, crossing_variance(path, *crossings[i]) + var_clock - 2.0 * cov[i]);
    EdgeTimes::Edge& edge = times.edges[i];
    edge.t_s.push_back({path.weight, crossings[i]->t_s - rollout.t_s, var});
    edge.s_m += path.weight * travel_at(path, *crossings[i]);
    edge.reached += path.weight;
  }
}

std::vector<SpeedEdge> edges_of(EdgeTimes times) {
  std::vector<SpeedEdge> out{{times.foot_speed_mps, 0.0, 0.0, rollout_m}};
  for (EdgeTimes::Edge& edge : times.edges) {
    if (edge.reached < mostly_reached) {
      continue;
    }
    normalise(edge.t_s, edge.reached);
    const numeric::MixtureSummary t = numeric::mean_and_sd(edge.t_s);
    if (t.mean > out.back().t_s) {
      out.push_back({edge.level.value, t.mean, t.sd, edge.s_m / edge.reached});
    }
  }
  return out;
}

}  // namespace bothways
