// docs/method.md, section 5: eq. (5.4) in add_movement (longest_s).
#include "bothways/run/split_times.hpp"

#include "bothways/core/duration.hpp"
#include "bothways/numeric/mixture.hpp"
#include "bothways/run/crossings.hpp"
#include "bothways/run/shared_errors.hpp"
#include "bothways/run/speed_edges.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <utility>

namespace bothways {

using numeric::NormalPart;
using numeric::State;

namespace {

constexpr double surely_reached = 0.8;  // probability that a mark was reached; else it is no split

Estimate to_estimate(const std::vector<NormalPart>& mixture) {
  const numeric::MixtureSummary s = numeric::summarise(mixture);
  return as_duration({s.mean, s.sd, s.lo95, s.hi95});
}

/// A split over the paths gone through; a mark counts if most of the weight reaches it.
struct SplitMixture {
  TimeMixture rollout;
  TimeMixture movement;
  std::vector<NormalPart> speed;  ///< at the end, where that is a distance
  double reached = 0.0;
  double discrepancy_s2 = 0.0;  ///< weight times the variance of the clock that all filters leave
  CrossingUncertainty crossing;
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

/// The speed where a distance is reached, m/s: what is wrong in the travel there moves the place, and with it
/// the speed by a/v of it.
NormalPart speed_at(const SmoothedPath& path, const Crossing& at, double weight) {
  const numeric::StateMatrix& cov = path.cov[at.index];
  const double by_place = path.mean[at.index](numeric::i_a) / at.slope;
  const double variance = cov(numeric::i_v, numeric::i_v) - 2.0 * by_place * cov(numeric::i_s, numeric::i_v) +
                          by_place * by_place * cov(numeric::i_s, numeric::i_s);
  return {weight, at.slope, std::max(0.0, variance)};
}

/// Everything that grows while the paths are gone through.
struct Timing {
  const std::vector<SplitSpec>& splits;
  double end_s = 0.0;
  double unseen_creep_s = 0.0;
  double movement_variance = 0.0;
  std::size_t parts = 1;
  std::vector<SplitMixture> times;
  EdgeTimes edges;
  std::vector<NormalPart> clock;
  std::vector<NormalPart> movement;
  double clock_weight = 0.0;
};

void add_split(const SmoothedPath& path, const Crossing& rollout, Crossings& crossings, std::size_t at,
               Timing& timing) {
  const SplitSpec& split = timing.splits[at];
  SplitMixture& out = timing.times[at];
  const std::vector<LikelyCrossing> rest{{1.0, rollout}};
  const std::vector<LikelyCrossing>& begins = split.from_rest() ? rest : crossings.of(split.from);
  const std::vector<LikelyCrossing>& ends = crossings.of(split.to);
  const double reached_before = out.reached;
  for (const LikelyCrossing& from : begins) {
    for (const LikelyCrossing& to : ends) {
      if (to.at.t_s <= from.at.t_s) {
        continue;  // within the first foot: before the clock starts
      }
      const double weight = path.weight * from.probability * to.probability;
      const double discrepancy_s = split.from_rest() ? path.clock_sd_s : path.marks_sd_s;
      const double discrepancy = discrepancy_s * discrepancy_s;
      out.discrepancy_s2 += weight * discrepancy;
      out.rollout.all.push_back(
          {weight, to.at.t_s - from.at.t_s, crossings.duration_variance(from.at, to.at) + discrepancy});
      out.reached += weight;
      if (to.at.row == numeric::i_s) {
        out.speed.push_back(speed_at(path, to.at, weight));
      }
      if (split.from_rest()) {
        add_movement(path, weight, timing.unseen_creep_s, to.at.t_s - path.t_s.front(),
                     crossing_variance(path, to.at) + timing.movement_variance, 1.0, out.movement.all);
      }
    }
  }
  out.crossing.add(out.reached - reached_before, begins, ends);
  out.rollout.close(path.part);
  out.movement.close(path.part);
}

void add_path(const SmoothedPath& path, Timing& timing) {
  add_movement(path, path.weight, timing.unseen_creep_s, path.t_s.front(), timing.movement_variance, -1.0,
               timing.movement);
  const auto rollout = first_crossing(path, first_foot, timing.end_s);
  if (!rollout) {
    return;
  }
  timing.clock.push_back(
      {path.weight, rollout->t_s, crossing_variance(path, *rollout) + path.clock_sd_s * path.clock_sd_s});
  timing.clock_weight += path.weight;
  Crossings crossings(path, timing.splits, timing.end_s);
  for (std::size_t i = 0; i < timing.splits.size(); ++i) {
    add_split(path, *rollout, crossings, i, timing);
  }
  add_path(path, *rollout, timing.end_s, timing.edges);
}

std::vector<Split> splits_of(Timing& timing) {
  std::vector<Split> out;
  for (std::size_t i = 0; i < timing.splits.size(); ++i) {
    SplitMixture& times = timing.times[i];
    if (times.reached < surely_reached) {
      continue;
    }
    const SplitSpec& spec = timing.splits[i];
    normalise(times.rollout.all, times.reached);
    Split split{.spec = spec, .rollout = to_estimate(times.rollout.all)};
    split.rollout_shared_s = shared_errors(times.rollout, split.rollout.value, timing.parts);
    split.rollout_shared_s.push_back(
        std::sqrt(times.discrepancy_s2 / times.reached));  // a log has one receiver
    split.crossing_shared_s = times.crossing.errors(times.reached);
    if (!times.speed.empty()) {
      normalise(times.speed, times.reached);
      split.speed_mps = to_estimate(times.speed);
    }
    split.movement = split.rollout;
    split.movement_shared_s = split.rollout_shared_s;
    if (spec.from_rest()) {
      normalise(times.movement.all, times.reached);
      split.movement = to_estimate(times.movement.all);
      split.movement_shared_s = shared_errors(times.movement, split.movement.value, timing.parts);
    }
    out.push_back(std::move(split));
  }
  return out;
}

Timing timing_of(const LaunchPosterior& posterior, const std::vector<SplitSpec>& splits, double end_s) {
  const SmoothedPath& likeliest = posterior.paths.front();
  Timing timing{.splits = splits,
                .end_s = end_s,
                .unseen_creep_s = posterior.unseen_creep_s,
                .movement_variance = posterior.movement_sd_s * posterior.movement_sd_s,
                .parts = posterior.parts,
                .edges = edge_times(likeliest, splits, end_s)};
  timing.times.resize(splits.size());
  for (const SmoothedPath& path : posterior.paths) {
    add_path(path, timing);
  }
  return timing;
}

/// Splits to a speed that the run may have reached: the others cost time and give nothing.
std::vector<SplitSpec> near_reach(const std::vector<SplitSpec>& splits, const SmoothedPath& likeliest) {
  double top = 0.0;
  for (std::size_t i = 0; i < likeliest.mean.size(); ++i) {
    top = std::max(top, likeliest.mean[i](numeric::i_v) +
                            3.0 * std::sqrt(std::max(0.0, likeliest.cov[i](numeric::i_v, numeric::i_v))));
  }
  std::vector<SplitSpec> kept;
  std::copy_if(splits.begin(), splits.end(), std::back_inserter(kept), [&](const SplitSpec& split) {
    const auto* speed = std::get_if<Speed>(&split.to);
    return speed == nullptr || speed->mps() <= top;
  });
  return kept;
}

}  // namespace

Run timed_run(const LaunchPosterior& posterior, const std::vector<SplitSpec>& splits, Instant window_start,
              double end_s, const std::vector<SplitSpec>& more) {
  Timing timing = timing_of(posterior, splits, end_s);
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
  run.edges = edges_of(timing.edges);
  run.curve = curve_of(posterior.paths.front(), clock_at.mean, end_s);
  if (!more.empty()) {
    const std::vector<SplitSpec> kept = near_reach(more, posterior.paths.front());
    Timing other = timing_of(posterior, kept, end_s);
    run.more_splits = splits_of(other);
    run.more_edges = edges_of(other.edges);
  }
  return run;
}

}  // namespace bothways
