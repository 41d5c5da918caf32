#include "bothways/launch/launch_pass.hpp"

#include "bothways/launch/reading_law.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

using numeric::Gaussian;
using numeric::Information;
using numeric::SeenBelief;
using numeric::State;

namespace {

constexpr double impossible = -1e300;
constexpr double shaped_gain = 6.0;  // in log p, for readings that the shape reaches beyond `sure`

std::size_t readings_until(const LaunchPass& p, double t0_s) {
  const auto after = std::upper_bound(p.readings->begin(), p.readings->end(), t0_s,
                                      [](double t, const Reading& r) { return t < r.t_s; });
  return static_cast<std::size_t>(after - p.readings->begin());
}

/// The state at first movement, given the readings before it: a and e, all else is 0 for sure.
struct FirstMovement {
  double a = 0.0;
  double a_variance = 0.0;
  double e = 0.0;
  double e_variance = 0.0;
};

FirstMovement first_movement(const LaunchPass& p, double t0_s) {
  const LaunchModel& model = *p.model;
  const SlowError& slow = p.slow[readings_until(p, t0_s)];
  const double stationary = model.motion.slow_sd * model.motion.slow_sd;
  const double keep = std::exp(-std::max(0.0, t0_s - slow.t_s) / model.motion.slow_time_s);
  return {model.shape.at(0.0), model.shape.sd_mps2 * model.shape.sd_mps2, slow.mean * keep,
          stationary + (slow.variance - stationary) * keep * keep};
}

Gaussian launch_prior(const LaunchPass& p, double t0_s) {
  const FirstMovement from = first_movement(p, t0_s);
  Gaussian prior;
  prior.mean(numeric::i_a) = from.a;
  prior.cov(numeric::i_a, numeric::i_a) = from.a_variance;
  prior.mean(numeric::i_e) = from.e;
  prior.cov(numeric::i_e, numeric::i_e) = from.e_variance;
  return prior;
}

/// From the launch to the first time after it.
numeric::Step step_into(const LaunchPass& p, std::size_t first, double t0_s) {
  return numeric::step_of(p.model->motion, p.t_s[first] - t0_s, p.factor[first]);
}

/// What the expected change of acceleration adds to the state over a step that ends tau_s after the launch.
State input_of(const LaunchPass& p, double tau_s, double dt_s) {
  const double before_s = std::max(0.0, tau_s - dt_s);
  if (before_s >= p.model->shape.length_s()) {
    return State::Zero();
  }
  const double change = p.model->shape.at(tau_s) - p.model->shape.at(before_s);
  return change == 0.0 ? State(State::Zero()) : numeric::jerk_response(p.model->motion, change / dt_s, dt_s);
}

/// What the shape expects at a time and what was expected at the last one asked, as a jerk between them.
class ShapeWalk {
 public:
  explicit ShapeWalk(const LaunchShape& shape) : shape_(shape), a_mps2_(shape.at(0.0)) {}
  double jerk_to(double tau_s, double dt_s) {
    const double before = std::exchange(a_mps2_, shape_.at(tau_s));
    return (a_mps2_ - before) / dt_s;
  }

 private:
  const LaunchShape& shape_;
  double a_mps2_;
};

/// The belief at the first time after the launch.
SeenBelief belief_at(const LaunchPass& p, std::size_t first, double t0_s, ShapeWalk& walk) {
  const FirstMovement from = first_movement(p, t0_s);
  SeenBelief belief;
  belief.a = from.a;
  belief.e = from.e;
  belief.aa = from.a_variance;
  belief.ee = from.e_variance;
  const double dt_s = p.t_s[first] - t0_s;
  const numeric::SeenStep step = numeric::seen_step(p.model->motion, dt_s, p.factor[first]);
  numeric::move_mean(belief, step, walk.jerk_to(dt_s, dt_s));
  numeric::spread(belief, step);
  return belief;
}

/// Takes one early reading into a belief: its sign unknown near zero, censored while held. Returns log
/// p(reading).
double take_early(SeenBelief& belief, const Reading& reading, const LaunchPass& p) {
  const numeric::SeenReading at = numeric::reading_of(belief, p.smoothed);
  const double s = at.variance + reading.variance;
  if (reading.kind == Reading::Kind::held) {
    return log_held(p.model->hold, at.mean, std::sqrt(s));
  }
  const LengthSays says =
      length_says(not_rounded_away(reading.z, *p.model), at.mean, s, p.model->standing_axes);
  const double per_s = 1.0 / s;
  numeric::take(belief, at, (says.mean - at.mean) * per_s, std::max(s - says.variance, 0.0) * per_s * per_s);
  if (p.model->hold.hold_mps <= 0.0) {
    return says.log_density;
  }
  return says.log_density +
         log_not_held(p.model->hold, std::max(at.mean, reading.z), std::sqrt(reading.variance));
}

/// Carries a mean from time k on: over the shape's changes step by step, to the next reading in one after
/// that.
std::size_t carry_mean(const LaunchPass& p, double t0_s, std::size_t k, std::size_t common, ShapeWalk& walk,
                       SeenBelief& belief) {
  if (k >= common) {
    numeric::move_mean(belief, p.to_reading[k], 0.0);
    return p.next_reading[k];
  }
  numeric::move_mean(belief, p.step[k], walk.jerk_to(p.t_s[k + 1] - t0_s, dt_after(p, k)));
  return k + 1;
}

/// Information at time k for this launch: the common one carried back over the shape's inputs, from `common`
/// on. Keeps the vectors and offsets at k and later in the trial, if asked.
Information shaped_information(const LaunchPass& p, double t0_s, const LaunchTrial& trial, std::size_t k,
                               std::vector<State>* b) {
  numeric::Told told = p.told[std::max(k, trial.common)];
  for (std::size_t at = trial.common; at-- > k;) {
    const PassMatrices& here = p.matrices(at);
    const State input = input_of(p, p.t_s[at + 1] - t0_s, dt_after(p, at));
    const State pulled = p.matrices(at + 1).step.information * input;
    told.constant += told.vector.dot(input) - 0.5 * input.dot(pulled);
    told.vector -= pulled;
    if (b != nullptr) {
      (*b)[at - k] = here.step.c * told.vector + input;
    }
    told = numeric::carry_told_back(here.step, told);
    if (const auto reading = smoothed_reading(p, at)) {
      take_told(*reading, here.log_peak, told);
    }
  }
  return {p.matrices(k).step.information, told.vector, told.constant};
}

}  // namespace

namespace {

LaunchTrial tried(const LaunchPass& p, double t0_s, double floor) {
  LaunchTrial trial;
  trial.first = static_cast<std::size_t>(std::upper_bound(p.t_s.begin(), p.t_s.end(), t0_s) - p.t_s.begin());
  trial.common = trial.first;
  const double shape_end = t0_s + p.model->shape.length_s();
  while (trial.common + 1 < p.t_s.size() && p.t_s[trial.common] < shape_end) {
    ++trial.common;
  }
  trial.log_likelihood = p.standing_log_likelihood[readings_until(p, t0_s)];
  if (p.model->positions) {  // all is plain Gaussian: the backward pass has it
    Gaussian belief = numeric::predict(launch_prior(p, t0_s), step_into(p, trial.first, t0_s));
    belief.mean += input_of(p, p.t_s[trial.first] - t0_s, p.t_s[trial.first] - t0_s);
    trial.log_likelihood +=
        numeric::log_likelihood(belief, shaped_information(p, t0_s, trial, trial.first, nullptr));
    return trial;
  }
  if (trial.common > p.sure) {
    floor -= shaped_gain;
  }
  ShapeWalk walk(p.model->shape);
  SeenBelief belief = belief_at(p, trial.first, t0_s, walk);
  if (trial.first < p.sure && p.reading[trial.first] < 0) {
    numeric::spread(belief, p.to_reading[trial.first]);
  }
  for (std::size_t k = trial.first; k < p.sure;) {
    if (trial.log_likelihood + p.at_most[k] < floor) {
      trial.log_likelihood += p.at_most[k];
      return trial;
    }
    if (p.reading[k] >= 0) {
      const Reading& reading = (*p.readings)[static_cast<std::size_t>(p.reading[k])];
      trial.log_likelihood += reading.kind == Reading::Kind::none ? 0.0 : take_early(belief, reading, p);
      numeric::spread(belief, p.to_reading[k]);
    }
    k = carry_mean(p, t0_s, k, trial.common, walk, belief);
  }
  trial.log_likelihood +=
      numeric::log_likelihood(belief, p.smoothed, shaped_information(p, t0_s, trial, p.sure, nullptr));
  return trial;
}

}  // namespace

LaunchTrial try_launch(const LaunchPass& p, double t0_s, double floor) {
  LaunchTrial trial = tried(p, t0_s, floor);
  if (!std::isfinite(trial.log_likelihood)) {
    trial.log_likelihood = impossible;  // out of the range of numbers: readings beyond all sense
  }
  return trial;
}

LaunchTimes times_of(const LaunchPass& p) {
  LaunchTimes out{p.t_s, p.reading, {}};
  out.forward.reserve(p.t_s.size());
  for (std::size_t k = 0; k + 1 < p.t_s.size(); ++k) {
    const numeric::CarriedMatrices& step = p.matrices(k).step;
    out.forward.push_back({step.a, step.c * p.told[k + 1].vector, step.c});
  }
  return out;
}

void trace_launch(const LaunchPass& p, const LaunchTimes& times, const LaunchTrial& trial, LaunchNode& node) {
  const std::size_t n = p.t_s.size();
  node.first = trial.first;
  const double dt = p.t_s[node.first] - node.t0_s;
  const State input = input_of(p, dt, dt);
  std::vector<State> shaped(trial.common - trial.first);
  Information info = shaped_information(p, node.t0_s, trial, node.first, &shaped);
  info.vector -= info.matrix * input;
  const numeric::Carried carried = numeric::carry_back(step_into(p, node.first, node.t0_s), info);
  node.start = numeric::join(launch_prior(p, node.t0_s), carried.before).posterior;
  node.entry = carried.forward;
  node.entry.b += input;
  State x = numeric::go_on(node.start.mean, node.entry, node.entry.b);
  node.mean.reserve(n - node.first);
  node.mean.push_back(x);
  for (std::size_t k = node.first; k + 1 < n; ++k) {
    const State& b = k < trial.common ? shaped[k - trial.first] : times.forward[k].b;
    x = numeric::go_on(x, times.forward[k], b);
    node.mean.push_back(x);
  }
}

}  // namespace bothways
