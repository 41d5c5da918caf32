#include "bothways/run/launch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace bothways {

using numeric::Gaussian;
using numeric::Information;
using numeric::State;

namespace {

constexpr int coarse_points = 28;
constexpr int fine_points = 25;
constexpr double least_weight = 1e-4;
constexpr double early_step_s = 0.1;  // longest step while the launch is near
constexpr double late_step_s = 0.25;  // longest step later
constexpr double early_span_s = 2.5;  // how long the launch is near, after the first moving reading
constexpr double tiny = 1e-300;

double normal_density(double x, double sd) {
  return std::exp(-0.5 * x * x / (sd * sd)) / (sd * std::sqrt(2.0 * std::numbers::pi));
}

double normal_cdf(double x) {
  return 0.5 * std::erfc(-x / std::numbers::sqrt2);
}

/// P(the receiver writes 0 | speed ~ N(v, sd)).
double held_probability(const ZeroHold& hold, double v_mps, double sd_mps) {
  const double near = normal_cdf((hold.hold_mps - v_mps) / std::hypot(hold.width_mps, sd_mps));
  if (hold.far_share <= 0.0) {
    return near;
  }
  const double far = normal_cdf((hold.far_mps - v_mps) / std::hypot(0.3, sd_mps));
  return (1.0 - hold.far_share) * near + hold.far_share * far;
}

/// log p(reading | standing). Positions are handled by the drift filter.
double log_standing(const Reading& reading, const LaunchModel& model) {
  switch (reading.kind) {
    case Reading::Kind::held:
      return 0.0;
    case Reading::Kind::speed: {
      const double sd = std::hypot(model.standing_sd, std::sqrt(reading.variance) * 0.3);
      // A little weight far out: a jolt of the stand or a stray reading must not decide.
      const auto at_rest = [&](double width) {
        return model.standing_axes == 2
                   ? reading.z / (width * width) * std::exp(-0.5 * reading.z * reading.z / (width * width))
                   : 2.0 * normal_density(reading.z, width);
      };
      const double density = 0.98 * at_rest(sd) + 0.02 * at_rest(4.0 * sd);
      const double shown = model.hold.hold_mps > 0.0 ? 1.0 - held_probability(model.hold, 0.0, sd) : 1.0;
      return std::log(std::max(density, tiny)) + std::log(std::max(shown, 1e-6));
    }
    case Reading::Kind::position:
    case Reading::Kind::none:
      return 0.0;
  }
  return 0.0;
}

/// The slow error as known from the standing readings: before any, its stationary law.
struct SlowError {
  double mean = 0.0;
  double variance = 0.0;
  double t_s = 0.0;
};

/// Standing readings from the left: cumulative log likelihood and the slow error after each.
struct Standing {
  std::vector<double> log_likelihood;  ///< (readings + 1): of the first k readings, all standing
  std::vector<SlowError> slow;         ///< (readings + 1)
};

Standing standing_pass(const std::vector<Reading>& readings, const LaunchModel& model) {
  Standing out;
  const double stationary = model.motion.slow_sd * model.motion.slow_sd;
  SlowError slow{0.0, stationary, readings.empty() ? 0.0 : readings.front().t_s};
  double total = 0.0;
  out.log_likelihood.push_back(0.0);
  out.slow.push_back(slow);
  for (const Reading& reading : readings) {
    const double keep = std::exp(-(reading.t_s - slow.t_s) / model.motion.slow_time_s);
    slow.mean *= keep;
    slow.variance = stationary + (slow.variance - stationary) * keep * keep;
    slow.t_s = reading.t_s;
    if (reading.kind == Reading::Kind::position) {
      const double s = slow.variance + reading.variance;
      total += std::log(std::max(normal_density(reading.z - slow.mean, std::sqrt(s)), tiny));
      const double gain = slow.variance / s;
      slow.mean += gain * (reading.z - slow.mean);
      slow.variance *= 1.0 - gain;
    } else {
      total += log_standing(reading, model);
    }
    out.log_likelihood.push_back(total);
    out.slow.push_back(slow);
  }
  return out;
}

/// The state at first movement, given the readings before it.
Gaussian launch_prior(const LaunchModel& model, const SlowError& slow, double t0_s) {
  Gaussian prior;
  prior.mean(numeric::i_a) = model.start_accel_mean;
  prior.cov(numeric::i_a, numeric::i_a) = model.start_accel_sd * model.start_accel_sd;
  const double stationary = model.motion.slow_sd * model.motion.slow_sd;
  const double keep = std::exp(-std::max(0.0, t0_s - slow.t_s) / model.motion.slow_time_s);
  prior.mean(numeric::i_e) = slow.mean * keep;
  prior.cov(numeric::i_e, numeric::i_e) = stationary + (slow.variance - stationary) * keep * keep;
  return prior;
}

/// Everything that stays the same for all launch instants of a window.
struct Window {
  const std::vector<Reading>& readings;
  const LaunchModel& model;
  LaunchFit& fit;
  State h_speed;
  State h_position;
  Standing standing;
  std::size_t sure = 0;  ///< index in fit.t_s of the first reading that is surely moving
};

void build_times(Window& w, const LaunchRange& range) {
  const double begin = range.earliest_s;
  double last = begin;
  for (std::size_t i = 0; i < w.readings.size(); ++i) {
    const double t = w.readings[i].t_s;
    if (t <= begin) {
      continue;
    }
    const double longest = t < range.latest_s + early_span_s ? early_step_s : late_step_s;
    const int parts = std::max(1, static_cast<int>(std::ceil((t - last) / longest - 1e-9)));
    for (int k = 1; k < parts; ++k) {
      w.fit.t_s.push_back(last + (t - last) * k / parts);
      w.fit.reading.push_back(-1);
    }
    w.fit.t_s.push_back(t);
    w.fit.reading.push_back(static_cast<int>(i));
    last = t;
    if (t <= range.latest_s + 1e-9) {
      w.sure = w.fit.t_s.size() - 1;
    }
  }
}

void build_steps(Window& w, const std::vector<double>& jerk_factor) {
  const std::size_t n = w.fit.t_s.size();
  w.fit.step.reserve(n - 1);
  for (std::size_t k = 0; k + 1 < n; ++k) {
    const double dt = w.fit.t_s[k + 1] - w.fit.t_s[k];
    const double factor = jerk_factor.size() == n - 1 ? jerk_factor[k] : 1.0;
    const bool same = k > 0 && std::abs(dt - (w.fit.t_s[k] - w.fit.t_s[k - 1])) < 1e-9 &&
                      (jerk_factor.empty() || factor == jerk_factor[k - 1]);
    w.fit.step.push_back(same ? w.fit.step.back() : numeric::step_of(w.model.motion, dt, factor));
  }
}

void add_to(Information& info, const Window& w, std::size_t k) {
  if (w.fit.reading[k] < 0) {
    return;
  }
  const Reading& reading = w.readings[static_cast<std::size_t>(w.fit.reading[k])];
  if (reading.kind == Reading::Kind::speed) {
    numeric::add_reading(info, w.h_speed, reading.z, reading.variance);
  } else if (reading.kind == Reading::Kind::position) {
    numeric::add_reading(info, w.h_position, reading.z, reading.variance);
  }
}

void backward_pass(Window& w) {
  const std::size_t n = w.fit.t_s.size();
  w.fit.info.assign(n, {});
  w.fit.forward.resize(n - 1);
  Information info;
  add_to(info, w, n - 1);
  w.fit.info[n - 1] = info;
  for (std::size_t k = n - 1; k-- > 0;) {
    const numeric::Carried carried = numeric::carry_back(w.fit.step[k], w.fit.info[k + 1]);
    w.fit.forward[k] = carried.forward;
    info = carried.before;
    add_to(info, w, k);
    w.fit.info[k] = info;
  }
}

std::size_t first_after(const std::vector<double>& t_s, double t0_s) {
  return static_cast<std::size_t>(std::upper_bound(t_s.begin(), t_s.end(), t0_s) - t_s.begin());
}

/// Takes one early reading into a belief: folded near zero, censored while held. Returns log p(reading).
double take_early(Gaussian& belief, const Reading& reading, const Window& w) {
  const State& h = w.h_speed;
  const double mean = h.dot(belief.mean);
  const double s = h.dot(belief.cov * h) + reading.variance;
  const double sd = std::sqrt(s);
  if (reading.kind == Reading::Kind::held) {
    return std::log(std::max(held_probability(w.model.hold, mean, sd), tiny));
  }
  const double up = normal_density(reading.z - mean, sd);
  const double down = normal_density(reading.z + mean, sd);
  const double shown =
      w.model.hold.hold_mps > 0.0
          ? 1.0 - held_probability(w.model.hold, std::max(mean, reading.z), std::sqrt(reading.variance))
          : 1.0;
  const double sign = up + down > tiny ? (up - down) / (up + down) : 1.0;
  const State gain = belief.cov * h / s;
  belief.mean += gain * (sign * reading.z - mean);
  belief.cov -= gain * s * gain.transpose();
  return std::log(std::max(up + down, tiny)) + std::log(std::max(shown, 1e-6));
}

std::size_t readings_until(const Window& w, double t0_s) {
  std::size_t count = 0;
  while (count < w.readings.size() && w.readings[count].t_s <= t0_s) {
    ++count;
  }
  return count;
}

/// log p(all readings | launch at t0).
double log_likelihood_at(const Window& w, double t0_s) {
  std::size_t k = first_after(w.fit.t_s, t0_s);
  const std::size_t before = readings_until(w, t0_s);
  double total = w.standing.log_likelihood[before];
  Gaussian belief = launch_prior(w.model, w.standing.slow[before], t0_s);
  double t = t0_s;
  while (k < w.sure) {
    const double dt = w.fit.t_s[k] - t;
    belief = numeric::predict(
        belief, k > 0 && t == w.fit.t_s[k - 1] ? w.fit.step[k - 1] : numeric::step_of(w.model.motion, dt));
    t = w.fit.t_s[k];
    const int index = w.fit.reading[k];
    if (index >= 0) {
      const Reading& reading = w.readings[static_cast<std::size_t>(index)];
      if (reading.kind == Reading::Kind::position) {
        break;  // plain Gaussian: the backward pass has it
      }
      if (reading.kind != Reading::Kind::none) {
        total += take_early(belief, reading, w);
      }
    }
    ++k;
  }
  if (t < w.fit.t_s[k]) {
    belief = numeric::predict(belief, k > 0 && t == w.fit.t_s[k - 1]
                                          ? w.fit.step[k - 1]
                                          : numeric::step_of(w.model.motion, w.fit.t_s[k] - t));
  }
  return total + numeric::log_likelihood(belief, w.fit.info[k]);
}

struct Candidate {
  double t0_s;
  double log_likelihood;
};

/// Coarse grid, then a fine one where the weight is.
std::vector<Candidate> scan(const Window& w, const LaunchRange& range) {
  std::vector<Candidate> all;
  const auto add = [&](double lo, double hi, int points) {
    for (int i = 0; i < points; ++i) {
      const double t0 = lo + (hi - lo) * (i + 0.5) / points;
      all.push_back({t0, log_likelihood_at(w, t0)});
    }
  };
  add(range.earliest_s, range.latest_s, coarse_points);
  const auto better = [](const Candidate& a, const Candidate& b) {
    return a.log_likelihood < b.log_likelihood;
  };
  const double best = std::max_element(all.begin(), all.end(), better)->log_likelihood;
  double lo = range.latest_s;
  double hi = range.earliest_s;
  const double width = (range.latest_s - range.earliest_s) / coarse_points;
  for (const Candidate& c : all) {
    if (c.log_likelihood > best - 12.0) {
      lo = std::min(lo, c.t0_s - width);
      hi = std::max(hi, c.t0_s + width);
    }
  }
  all.clear();
  add(std::max(lo, range.earliest_s), std::min(hi, range.latest_s), fine_points);
  return all;
}

void trace(const Window& w, LaunchNode& node) {
  const std::size_t n = w.fit.t_s.size();
  node.first = first_after(w.fit.t_s, node.t0_s);
  const numeric::Carried carried = numeric::carry_back(
      numeric::step_of(w.model.motion, w.fit.t_s[node.first] - node.t0_s), w.fit.info[node.first]);
  const SlowError& slow = w.standing.slow[readings_until(w, node.t0_s)];
  node.start = numeric::join(launch_prior(w.model, slow, node.t0_s), carried.before).posterior;
  node.entry = carried.forward;
  State x = node.entry.a * node.start.mean + node.entry.b;
  node.mean.reserve(n - node.first);
  node.mean.push_back(x);
  for (std::size_t k = node.first; k + 1 < n; ++k) {
    x = w.fit.forward[k].a * x + w.fit.forward[k].b;
    node.mean.push_back(x);
  }
}

}  // namespace

double launch_log_likelihood(const std::vector<Reading>& readings, const LaunchModel& model,
                             const LaunchRange& range, double t0_s) {
  LaunchFit fit;
  Window w{readings,
           model,
           fit,
           numeric::reading_of_speed(model.motion),
           numeric::reading_of_position(),
           standing_pass(readings, model)};
  build_times(w, range);
  build_steps(w, {});
  backward_pass(w);
  return log_likelihood_at(w, t0_s);
}

LaunchFit fit_launch(const std::vector<Reading>& readings, const LaunchModel& model, const LaunchRange& range,
                     const std::vector<double>& jerk_factor) {
  LaunchFit fit;
  Window w{readings,
           model,
           fit,
           numeric::reading_of_speed(model.motion),
           numeric::reading_of_position(),
           standing_pass(readings, model)};
  build_times(w, range);
  build_steps(w, jerk_factor);
  backward_pass(w);
  const std::vector<Candidate> candidates = scan(w, range);
  double best = -std::numeric_limits<double>::infinity();
  for (const Candidate& c : candidates) {
    best = std::max(best, c.log_likelihood);
  }
  fit.log_likelihood = best;
  double sum = 0.0;
  for (const Candidate& c : candidates) {
    sum += std::exp(c.log_likelihood - best);
  }
  for (const Candidate& c : candidates) {
    const double weight = std::exp(c.log_likelihood - best) / sum;
    if (weight > least_weight) {
      LaunchNode node;
      node.t0_s = c.t0_s;
      node.weight = weight;
      fit.nodes.push_back(std::move(node));
    }
  }
  double kept = 0.0;
  for (const LaunchNode& node : fit.nodes) {
    kept += node.weight;
  }
  for (LaunchNode& node : fit.nodes) {
    node.weight /= kept;
    trace(w, node);
  }
  return fit;
}

}  // namespace bothways
