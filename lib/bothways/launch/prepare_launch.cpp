#include "bothways/launch/launch_pass.hpp"
#include "bothways/launch/reading_law.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways {

using numeric::State;

namespace {

constexpr double early_step_s = 0.1;         // longest step while the launch is near
constexpr double late_step_s = 0.25;         // longest step later
constexpr double small_length_spread = 2.5;  // of the noise's variance
constexpr double early_span_s = 2.5;         // how long the launch is near, after the first moving reading

void standing_pass(LaunchPass& p, double latest_s) {
  const LaunchModel& model = *p.model;
  const double stationary = model.motion.slow_sd * model.motion.slow_sd;
  SlowError slow{0.0, stationary, p.readings->empty() ? 0.0 : p.readings->front().t_s};
  double total = 0.0;
  p.standing_log_likelihood.push_back(0.0);
  p.slow.push_back(slow);
  for (const Reading& reading : *p.readings) {
    if (reading.t_s > latest_s) {
      break;
    }
    if (reading.kind == Reading::Kind::position) {
      const double keep = std::exp(-(reading.t_s - slow.t_s) / model.motion.slow_time_s);
      slow.mean *= keep;
      slow.variance = stationary + (slow.variance - stationary) * keep * keep;
      slow.t_s = reading.t_s;
      const double s = slow.variance + reading.variance;
      total += log_normal(reading.z - slow.mean, s);
      const double gain = slow.variance / s;
      slow.mean += gain * (reading.z - slow.mean);
      slow.variance *= 1.0 - gain;
    } else if (reading.kind != Reading::Kind::none) {
      total += reading.standing_log_p;
      slow.variance = reading.standing_slow_variance;
      slow.t_s = reading.t_s;
    }
    p.standing_log_likelihood.push_back(total);
    p.slow.push_back(slow);
  }
}

void build_times(LaunchPass& p, const LaunchRange& range, double shaped_s) {
  p.t_s.reserve(p.readings->size());
  p.reading.reserve(p.readings->size());
  p.factor.reserve(p.readings->size());
  double last = range.earliest_s;
  for (std::size_t i = 0; i < p.readings->size(); ++i) {
    const Reading& reading = (*p.readings)[i];
    if (reading.t_s <= range.earliest_s) {
      continue;
    }
    const double longest = reading.t_s < range.latest_s + early_span_s ? early_step_s : late_step_s;
    const bool whole = last >= range.latest_s + shaped_s - 1e-9 || shaped_s <= 0.0;
    const int parts =
        whole ? 1 : std::max(1, static_cast<int>(std::ceil((reading.t_s - last) / longest - 1e-9)));
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

/// Stamps are in microseconds: steps of 1/18 s differ by one.
bool same_time(double dt_s, double other_s) {
  return std::abs(dt_s - other_s) < 1.5e-6;
}

void build_steps(LaunchPass& p) {
  for (std::size_t k = 0; k < p.sure && k + 1 < p.t_s.size(); ++k) {
    const bool same =
        k > 0 && same_time(dt_after(p, k), dt_after(p, k - 1)) && p.factor[k + 1] == p.factor[k];
    p.step.push_back(same ? p.step.back()
                          : numeric::seen_step(p.model->motion, dt_after(p, k), p.factor[k + 1]));
  }
  p.to_reading = p.step;
  p.next_reading.resize(p.step.size());
  for (std::size_t k = p.step.size(); k-- > 0;) {
    const bool between = p.reading[k + 1] < 0;
    p.next_reading[k] = between ? p.next_reading[k + 1] : k + 1;
    if (between) {
      p.to_reading[k] = numeric::then(p.step[k], p.to_reading[k + 1]);
    }
  }
}

/// The last step worked out: most are like it.
struct LastStep {
  double dt_s = 0.0;
  double factor = 0.0;
  numeric::Step step;
};

/// Time k of a pass whose later times are known already.
void fill_matrices(const LaunchPass& p, std::size_t k, const std::optional<Smoothed>& reading,
                   const PassMatrices* later, LastStep& last, PassMatrices& out) {
  if (later != nullptr) {
    out.dt_s = dt_after(p, k);
    out.factor = p.factor[k + 1];
    if (!same_time(out.dt_s, last.dt_s) || out.factor != last.factor) {
      last = {out.dt_s, out.factor, numeric::step_of(p.model->motion, out.dt_s, out.factor)};
    }
    out.step = numeric::carry_matrices_back(last.step, later->step.information);
  }
  if (reading) {
    const State& h = *reading->row;
    out.variance = reading->variance;
    out.log_peak = numeric::reading_constant(0.0, reading->variance);
    out.step.information.noalias() += h * h.transpose() / reading->variance;
  }
}

bool is_as_kept(const LaunchPass& p, std::size_t k, const std::optional<Smoothed>& reading,
                const PassMatrices& kept) {
  const bool last = k + 1 == p.t_s.size();
  return kept.variance == (reading ? reading->variance : 0.0) &&
         (last || (same_time(kept.dt_s, dt_after(p, k)) && kept.factor == p.factor[k + 1]));
}

/// What a length near the noise at rest says of the speed: the root of its square beyond the noise's own,
/// with the sign of that, is right on average to a seventh of the noise; neighbours share some of their
/// error.
Smoothed small_length(const LaunchPass& p, double z) {
  const double noise = p.model->standing_sd * p.model->standing_sd;
  const double beyond = z * z - p.model->standing_axes * noise;
  return {std::copysign(std::sqrt(std::abs(beyond)), beyond), small_length_spread * noise, &p.h_speed};
}

void backward_pass(LaunchPass& p) {
  const std::size_t n = p.t_s.size();
  p.told.resize(n);
  std::vector<PassMatrices>& pass = p.model->store ? p.model->store->of(p.model->motion) : p.own;
  pass.reserve(n);
  LastStep last;
  for (std::size_t k = n; k-- > 0;) {
    const std::optional<Smoothed> reading = smoothed_reading(p, k);
    const std::size_t at = n - 1 - k;
    if (at >= pass.size() || !is_as_kept(p, k, reading, pass[at])) {
      pass.resize(at);  // what was kept of earlier times does not hold here
      PassMatrices& here = pass.emplace_back();
      fill_matrices(p, k, reading, at > 0 ? &pass[at - 1] : nullptr, last, here);
    }
    const PassMatrices& here = pass[at];
    numeric::Told& told = p.told[k];
    if (k + 1 < n) {
      told = numeric::carry_told_back(here.step, p.told[k + 1]);
    }
    if (reading) {
      take_told(*reading, here.log_peak, told);
    }
  }
  p.last = pass.data();
}

/// The most that log p of an early reading can be, whatever was predicted: no density of a length with at
/// least its noise is higher than this.
double early_at_most(const Reading& reading, int axes) {
  if (reading.kind != Reading::Kind::speed) {
    return 0.0;
  }
  const double peak = axes == 1 ? 2.0 : 1.53;  // of the normal density's: half-normal, Rayleigh
  return std::log(peak) - 0.5 * std::log(2.0 * std::numbers::pi * reading.variance);
}

void build_bounds(LaunchPass& p) {
  constexpr double anywhere = 1e4;  // m, m/s, m/s^2
  const numeric::StateMatrix& matrix = p.matrices(p.sure).step.information;
  const numeric::Told& later = p.told[p.sure];
  numeric::Gaussian wide;
  wide.cov.diagonal()
      .head(p.smoothed ? numeric::state_size : numeric::plain_size)
      .setConstant(anywhere * anywhere);
  const State x = numeric::join(wide, {matrix, later.vector}).posterior.mean;
  p.at_most.resize(p.sure + 1);
  p.at_most[p.sure] = later.constant + later.vector.dot(x) - 0.5 * x.dot(matrix * x);
  for (std::size_t k = p.sure; k-- > 0;) {
    p.at_most[k] = p.at_most[k + 1];
    if (p.reading[k] >= 0) {
      p.at_most[k] +=
          early_at_most((*p.readings)[static_cast<std::size_t>(p.reading[k])], p.model->standing_axes);
    }
  }
}

}  // namespace

double dt_after(const LaunchPass& p, std::size_t k) {
  return p.t_s[k + 1] - p.t_s[k];
}

void take_told(const Smoothed& reading, double log_peak, numeric::Told& told) {
  const double weighed = reading.z / reading.variance;
  told.vector += *reading.row * weighed;
  told.constant += log_peak - 0.5 * reading.z * weighed;
}

std::optional<Smoothed> smoothed_reading(const LaunchPass& p, std::size_t k) {
  if (p.reading[k] < 0) {
    return std::nullopt;
  }
  const Reading& reading = (*p.readings)[static_cast<std::size_t>(p.reading[k])];
  if (reading.kind == Reading::Kind::position) {
    return Smoothed{reading.z, reading.variance, &p.h_position};
  }
  if (reading.kind != Reading::Kind::speed) {
    return std::nullopt;
  }
  const double small = 2.0 * p.model->standing_sd * std::sqrt(static_cast<double>(p.model->standing_axes));
  if (k < p.sure && reading.z < small) {
    return small_length(p, reading.z);
  }
  return Smoothed{reading.z, reading.variance, &p.h_speed};
}

LaunchPass prepare_launch(const std::vector<Reading>& readings, const LaunchModel& model,
                          const LaunchRange& range, double shaped_s) {
  LaunchPass p;
  p.readings = &readings;
  p.model = &model;
  p.h_speed = numeric::reading_of_speed(model.motion);
  p.h_position = numeric::reading_of_position();
  p.smoothed = p.h_speed(numeric::i_y) != 0.0;
  standing_pass(p, range.latest_s);
  build_times(p, range, shaped_s);
  if (!model.positions) {
    build_steps(p);
  }
  backward_pass(p);
  build_bounds(p);
  return p;
}

}  // namespace bothways
