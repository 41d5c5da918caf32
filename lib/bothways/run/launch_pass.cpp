#include "bothways/run/launch_pass.hpp"

#include "bothways/run/reading_law.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::Gaussian;
using numeric::Information;
using numeric::State;

namespace {

constexpr double early_step_s = 0.1;  // longest step while the launch is near
constexpr double late_step_s = 0.25;  // longest step later
constexpr double early_span_s = 2.5;  // how long the launch is near, after the first moving reading

void standing_pass(LaunchPass& p) {
  const LaunchModel& model = *p.model;
  const double stationary = model.motion.slow_sd * model.motion.slow_sd;
  SlowError slow{0.0, stationary, p.readings->empty() ? 0.0 : p.readings->front().t_s};
  double total = 0.0;
  p.standing_log_likelihood.push_back(0.0);
  p.slow.push_back(slow);
  for (const Reading& reading : *p.readings) {
    const double keep = std::exp(-(reading.t_s - slow.t_s) / model.motion.slow_time_s);
    slow.mean *= keep;
    slow.variance = stationary + (slow.variance - stationary) * keep * keep;
    slow.t_s = reading.t_s;
    if (reading.kind == Reading::Kind::position) {
      const double s = slow.variance + reading.variance;
      total += log_normal(reading.z - slow.mean, s);
      const double gain = slow.variance / s;
      slow.mean += gain * (reading.z - slow.mean);
      slow.variance *= 1.0 - gain;
    } else {
      total += log_standing(reading, model);
    }
    p.standing_log_likelihood.push_back(total);
    p.slow.push_back(slow);
  }
}

void build_times(LaunchPass& p, const LaunchRange& range) {
  double last = range.earliest_s;
  for (std::size_t i = 0; i < p.readings->size(); ++i) {
    const Reading& reading = (*p.readings)[i];
    if (reading.t_s <= range.earliest_s) {
      continue;
    }
    const double longest = reading.t_s < range.latest_s + early_span_s ? early_step_s : late_step_s;
    const int parts = std::max(1, static_cast<int>(std::ceil((reading.t_s - last) / longest - 1e-9)));
    for (int k = 1; k <= parts; ++k) {
      p.t_s.push_back(k == parts ? reading.t_s : last + (reading.t_s - last) * k / parts);
      p.reading.push_back(k == parts ? static_cast<int>(i) : -1);
      p.factor.push_back(reading.jerk_factor);
    }
    last = reading.t_s;
    if (reading.t_s <= range.latest_s + 1e-9) {
      p.sure = p.t_s.size() - 1;
    }
  }
}

void build_steps(LaunchPass& p) {
  for (std::size_t k = 0; k + 1 < p.t_s.size(); ++k) {
    const double dt = p.t_s[k + 1] - p.t_s[k];
    const bool same =
        k > 0 && std::abs(dt - (p.t_s[k] - p.t_s[k - 1])) < 1e-9 && p.factor[k + 1] == p.factor[k];
    p.step.push_back(same ? p.step.back() : numeric::step_of(p.model->motion, dt, p.factor[k + 1]));
  }
}

/// The reading at a time as it enters the smoother; nullptr if it has no say there.
const Reading* smoothed_reading(const LaunchPass& p, std::size_t k) {
  if (p.reading[k] < 0) {
    return nullptr;
  }
  const Reading& reading = (*p.readings)[static_cast<std::size_t>(p.reading[k])];
  if (reading.kind == Reading::Kind::position) {
    return &reading;
  }
  // Below the noise at rest a length says next to nothing of the speed, and that little is biased upwards.
  const double lost = 2.0 * p.model->standing_sd * std::sqrt(static_cast<double>(p.model->standing_axes));
  const bool usable = reading.kind == Reading::Kind::speed && (k >= p.sure || reading.z >= lost);
  return usable ? &reading : nullptr;
}

const State& row_of(const LaunchPass& p, const Reading& reading) {
  return reading.kind == Reading::Kind::position ? p.h_position : p.h_speed;
}

void backward_pass(LaunchPass& p) {
  const std::size_t n = p.t_s.size();
  p.info.assign(n, {});
  p.forward.resize(n - 1);
  p.half_log_det.resize(n - 1);
  for (std::size_t k = n; k-- > 0;) {
    if (k + 1 < n) {
      const numeric::Carried carried = numeric::carry_back(p.step[k], p.info[k + 1]);
      p.forward[k] = carried.forward;
      p.half_log_det[k] = carried.half_log_det;
      p.info[k] = carried.before;
    }
    if (const Reading* reading = smoothed_reading(p, k)) {
      numeric::add_reading(p.info[k], row_of(p, *reading), reading->z, reading->variance);
    }
  }
}

std::size_t readings_until(const LaunchPass& p, double t0_s) {
  const auto after = std::upper_bound(p.readings->begin(), p.readings->end(), t0_s,
                                      [](double t, const Reading& r) { return t < r.t_s; });
  return static_cast<std::size_t>(after - p.readings->begin());
}

/// The state at first movement, given the readings before it.
Gaussian launch_prior(const LaunchPass& p, double t0_s) {
  const LaunchModel& model = *p.model;
  const SlowError& slow = p.slow[readings_until(p, t0_s)];
  Gaussian prior;
  prior.mean(numeric::i_a) = model.shape.at(0.0);
  prior.cov(numeric::i_a, numeric::i_a) = model.shape.sd_mps2 * model.shape.sd_mps2;
  const double stationary = model.motion.slow_sd * model.motion.slow_sd;
  const double keep = std::exp(-std::max(0.0, t0_s - slow.t_s) / model.motion.slow_time_s);
  prior.mean(numeric::i_e) = slow.mean * keep;
  prior.cov(numeric::i_e, numeric::i_e) = stationary + (slow.variance - stationary) * keep * keep;
  return prior;
}

/// From t, at or after the time before, to time k.
numeric::Step step_into(const LaunchPass& p, std::size_t k, double t) {
  return k > 0 && t == p.t_s[k - 1] ? p.step[k - 1]
                                    : numeric::step_of(p.model->motion, p.t_s[k] - t, p.factor[k]);
}

/// What the expected change of acceleration adds to the state over a step that ends tau_s after the launch.
State input_of(const LaunchPass& p, double tau_s, double dt_s) {
  const double change = p.model->shape.at(tau_s) - p.model->shape.at(std::max(0.0, tau_s - dt_s));
  return change == 0.0 ? State(State::Zero()) : numeric::jerk_response(p.model->motion, change / dt_s, dt_s);
}

/// Takes one early reading into a belief: its sign unknown near zero, censored while held. Returns log
/// p(reading).
double take_early(Gaussian& belief, const Reading& reading, const LaunchPass& p) {
  const State& h = p.h_speed;
  const double mean = h.dot(belief.mean);
  const State ph = belief.cov * h;
  const double s = h.dot(ph) + reading.variance;
  if (reading.kind == Reading::Kind::held) {
    return log_held(p.model->hold, mean, std::sqrt(s));
  }
  const LengthSays says = length_says(not_rounded_away(reading.z, *p.model), mean, s, p.model->standing_axes);
  const double log_shown =
      log_not_held(p.model->hold, std::max(mean, reading.z), std::sqrt(reading.variance));
  const State gain = ph / s;
  belief.mean += gain * (says.mean - mean);
  belief.cov -= gain * std::max(s - says.variance, 0.0) * gain.transpose();
  return says.log_density + log_shown;
}

/// Information at time k for this launch.
Information information_at(const LaunchPass& p, const LaunchTrial& trial, std::size_t k, double constant) {
  if (k >= trial.common) {
    return p.info[k];
  }
  return {p.info[k].matrix, trial.vector[k - trial.first], constant};
}

/// Vectors and constants from `common` back to `first` with the shape's inputs; constants by time.
std::vector<double> shaped_pass(const LaunchPass& p, double t0_s, LaunchTrial& trial) {
  const std::size_t count = trial.common - trial.first;
  trial.vector.resize(count);
  trial.b.resize(count);
  std::vector<double> constant(count);
  State vector = p.info[trial.common].vector;
  double value = p.info[trial.common].constant;
  for (std::size_t k = trial.common; k-- > trial.first;) {
    const State input = input_of(p, p.t_s[k + 1] - t0_s, p.t_s[k + 1] - p.t_s[k]);
    const State pulled = p.info[k + 1].matrix * input;
    const State shifted = vector - pulled;
    const State spread = p.forward[k].c * shifted;
    value += vector.dot(input) - 0.5 * input.dot(pulled) - p.half_log_det[k] + 0.5 * shifted.dot(spread);
    trial.b[k - trial.first] = spread + input;
    vector.noalias() = p.forward[k].a.transpose() * shifted;
    if (const Reading* reading = smoothed_reading(p, k)) {
      vector += row_of(p, *reading) * (reading->z / reading->variance);
      value += numeric::reading_constant(reading->z, reading->variance);
    }
    trial.vector[k - trial.first] = vector;
    constant[k - trial.first] = value;
  }
  return constant;
}

}  // namespace

LaunchPass prepare_launch(const std::vector<Reading>& readings, const LaunchModel& model,
                          const LaunchRange& range) {
  LaunchPass p;
  p.readings = &readings;
  p.model = &model;
  p.h_speed = numeric::reading_of_speed(model.motion);
  p.h_position = numeric::reading_of_position();
  standing_pass(p);
  build_times(p, range);
  build_steps(p);
  backward_pass(p);
  return p;
}

LaunchTrial try_launch(const LaunchPass& p, double t0_s) {
  LaunchTrial trial;
  trial.first = static_cast<std::size_t>(std::upper_bound(p.t_s.begin(), p.t_s.end(), t0_s) - p.t_s.begin());
  trial.common = trial.first;
  const double shape_end = t0_s + p.model->shape.length_s();
  while (trial.common + 1 < p.t_s.size() && p.t_s[trial.common] < shape_end) {
    ++trial.common;
  }
  const std::vector<double> constant = shaped_pass(p, t0_s, trial);
  trial.log_likelihood = p.standing_log_likelihood[readings_until(p, t0_s)];
  Gaussian belief = launch_prior(p, t0_s);
  double t = t0_s;
  std::size_t k = trial.first;
  for (;; ++k) {
    belief = numeric::predict(belief, step_into(p, k, t));
    belief.mean += input_of(p, p.t_s[k] - t0_s, p.t_s[k] - t);
    t = p.t_s[k];
    const int index = p.reading[k];
    const Reading* reading = index >= 0 ? &(*p.readings)[static_cast<std::size_t>(index)] : nullptr;
    if (k >= p.sure || (reading != nullptr && reading->kind == Reading::Kind::position)) {
      break;  // from here on plain Gaussian: the backward pass has it
    }
    if (reading != nullptr && reading->kind != Reading::Kind::none) {
      trial.log_likelihood += take_early(belief, *reading, p);
    }
  }
  const double from = k < trial.common ? constant[k - trial.first] : 0.0;
  trial.log_likelihood += numeric::log_likelihood(belief, information_at(p, trial, k, from));
  return trial;
}

void trace_launch(const LaunchPass& p, const LaunchTrial& trial, LaunchNode& node) {
  const std::size_t n = p.t_s.size();
  node.first = trial.first;
  const double dt = p.t_s[node.first] - node.t0_s;
  const State input = input_of(p, dt, dt);
  Information info = information_at(p, trial, node.first, 0.0);
  info.vector -= info.matrix * input;
  const numeric::Carried carried = numeric::carry_back(step_into(p, node.first, node.t0_s), info);
  node.start = numeric::join(launch_prior(p, node.t0_s), carried.before).posterior;
  node.entry = carried.forward;
  node.entry.b += input;
  State x = node.entry.a * node.start.mean + node.entry.b;
  node.mean.reserve(n - node.first);
  node.mean.push_back(x);
  for (std::size_t k = node.first; k + 1 < n; ++k) {
    const State& b = k < trial.common ? trial.b[k - trial.first] : p.forward[k].b;
    x = p.forward[k].a * x + b;
    node.mean.push_back(x);
  }
}

}  // namespace bothways
