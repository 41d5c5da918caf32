#include "bothways/launch/estimate.hpp"

#include "bothways/launch/evidence.hpp"
#include "bothways/launch/forward_pass.hpp"
#include "bothways/launch/posterior.hpp"
#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace bothways {

namespace {

constexpr double jerk_density_sd = std::numbers::sqrt2;  // of ln q
constexpr double white_variance_sd = 0.7;                // of ln r
constexpr double least_jerk_density = 0.05;
constexpr double most_jerk_density = 300.0;
constexpr std::size_t enough_launches = 6;  // estimation looks at no more
constexpr std::size_t few_launches = 3;
constexpr std::size_t enough_for_noise = 4;  // for noise and jerk
constexpr LaunchGrid evidence_grid{14, 7};
constexpr LaunchGrid rough_grid{14, 0};
constexpr LaunchGrid pull_grid{18, 0};
constexpr std::size_t most_pooled = 8;  // hypotheses shared by many starts
constexpr std::size_t most_own = 14;    // one start says little of its shape
constexpr double least_full_mps2 = 0.3;
constexpr double most_full_mps2 = 15.0;

/// Highest of three neighbours' parabola in log-steps; the middle if it is no peak.
double peak_of(const std::array<double, 3>& y) {
  const double bend = y[0] - 2.0 * y[1] + y[2];
  return bend < -1e-9 ? std::clamp(0.5 * (y[0] - y[2]) / bend, -1.0, 1.0) : 0.0;
}

/// The factor of two to the power -> log posterior, climbed in whole steps to its highest place.
template <typename LogPosterior>
double map_factor(LogPosterior&& at, int lowest, int highest) {
  int here = 0;
  double value = at(0);
  const double up = at(1);
  const double down = at(-1);
  if (up <= value && down <= value) {
    return std::exp2(peak_of({down, value, up}));
  }
  const int way = up > down ? 1 : -1;
  double before = value;
  double next = std::max(up, down);
  while (next > value && here + way > lowest && here + way < highest) {
    here += way;
    before = value;
    value = next;
    next = at(here + way);
  }
  if (next > value) {
    return std::exp2(here + way);
  }
  return std::exp2(here + way * peak_of({before, value, next}));
}

/// A launch at its likeliest place under the best hypothesis so far.
struct PlacedLaunch {
  const LaunchWindow* window;
  double t0_s;
};

std::vector<PlacedLaunch> placed(const std::vector<LaunchWindow>& windows, const LaunchModel& model,
                                 const LaunchHypothesis& hypothesis) {
  std::vector<PlacedLaunch> out;
  for (std::size_t i = 0; i < std::min(windows.size(), enough_for_noise); ++i) {
    out.push_back({&windows[i], instant_posteriors(windows[i], model, {hypothesis}).front().mean_s()});
  }
  return out;
}

double log_likelihood_of(const std::vector<PlacedLaunch>& launches, const LaunchModel& model,
                         const LaunchHypothesis& h) {
  double total = 0.0;
  for (const PlacedLaunch& launch : launches) {
    total += launch_log_likelihood(backward_pass(*launch.window, model, h), h.shape, launch.t0_s);
  }
  return total;
}

/// log of the normal prior of a log-scale parameter, up to a constant.
double log_prior(double off, double sd) {
  return -off * off / (2.0 * sd * sd);
}

double map_jerk_density(const LaunchModel& model, const std::vector<PlacedLaunch>& launches,
                        const LaunchHypothesis& hypothesis) {
  const double start = model.motion.jerk_density;
  const double factor = map_factor(
      [&](int step) {
        LaunchModel trial = model;
        trial.motion.jerk_density = start * std::exp2(step);
        return log_likelihood_of(launches, trial, hypothesis) +
               log_prior(std::log(trial.motion.jerk_density / usual_jerk_density), jerk_density_sd);
      },
      -4, 6);
  return std::clamp(start * factor, least_jerk_density, most_jerk_density);
}

double map_white_factor(const LaunchModel& model, const std::vector<PlacedLaunch>& launches,
                        const LaunchHypothesis& hypothesis) {
  return map_factor(
      [&](int step) {
        LaunchModel trial = model;
        trial.white_factor = std::exp2(step);
        return log_likelihood_of(launches, trial, hypothesis) +
               log_prior(step * std::numbers::ln2, white_variance_sd);
      },
      -3, 3);
}

/// Acceleration once the clutch has taken hold: median over the launches of the smoothed one 0.4 s to 1.2 s
/// after first movement.
double full_acceleration(const std::vector<LaunchWindow>& windows, const LaunchModel& model,
                         const LaunchHypothesis& hypothesis) {
  std::vector<double> found;
  for (const LaunchWindow& window : windows) {
    const SmoothedPath path = likeliest_path(window, model, hypothesis, pull_grid);
    double sum = 0.0;
    int count = 0;
    for (std::size_t i = 1; i < path.t_s.size(); ++i) {
      const double tau = path.t_s[i] - path.t_s.front();
      if (tau >= 0.4 && tau <= 1.2) {
        sum += path.mean[i](numeric::i_a);
        ++count;
      }
    }
    if (count > 0) {
      found.push_back(sum / count);
    }
  }
  return std::clamp(numeric::quantile(std::move(found), 0.5), least_full_mps2, most_full_mps2);
}

/// The same of one start, wherever it begins: the highest mean over half a second below 5 m/s.
double own_full_acceleration(const LaunchWindow& window, const LaunchModel& model,
                             const LaunchHypothesis& hypothesis) {
  const SmoothedPath path = likeliest_path(window, model, hypothesis, pull_grid);
  double best = 0.0;
  std::size_t from = 1;
  for (std::size_t i = 1; i < path.t_s.size() && path.mean[i](numeric::i_v) < 5.0; ++i) {
    while (path.t_s[i] - path.t_s[from] > 0.5) {
      ++from;
    }
    const double span_s = path.t_s[i] - path.t_s[from];
    if (span_s > 0.25) {
      best = std::max(best, (path.mean[i](numeric::i_v) - path.mean[from](numeric::i_v)) / span_s);
    }
  }
  return std::clamp(best, least_full_mps2, most_full_mps2);
}

/// A few windows, evenly taken.
std::vector<LaunchWindow> some_of(const std::vector<LaunchWindow>& windows) {
  std::vector<LaunchWindow> some;
  const std::size_t stride = std::max<std::size_t>(1, windows.size() / enough_launches);
  for (std::size_t i = 0; i < windows.size() && some.size() < enough_launches; i += stride) {
    some.push_back(windows[i]);
  }
  return some;
}

std::vector<WeightedHypothesis> weighted(const std::vector<LaunchHypothesis>& hypotheses,
                                         const LaunchModel& model, const std::vector<LaunchWindow>& windows,
                                         const LaunchGrid& grid, std::size_t most) {
  return weighted_hypotheses(hypotheses, evidence_of(hypotheses, model, windows, grid), most);
}

std::size_t candidate_of(const std::vector<Smoothing>& smoothing, const SpeedFilter& filter) {
  const auto found = std::find_if(smoothing.begin(), smoothing.end(),
                                  [&](const Smoothing& candidate) { return candidate.filter == filter; });
  return static_cast<std::size_t>(found - smoothing.begin());
}

std::vector<std::vector<WeightedHypothesis>> own_hypotheses(const std::vector<LaunchWindow>& windows,
                                                            const LaunchModel& model,
                                                            const std::vector<Smoothing>& smoothing,
                                                            const LaunchHypothesis& settled) {
  std::vector<std::vector<WeightedHypothesis>> own;
  own.reserve(windows.size());
  for (const LaunchWindow& window : windows) {
    const auto hypotheses = gentle_hypotheses(smoothing, own_full_acceleration(window, model, settled));
    own.push_back(weighted(hypotheses, model, {window}, evidence_grid, most_own));
    for (WeightedHypothesis& h : own.back()) {  // starts that are unlike share the receiver alone
      h.part = candidate_of(smoothing, h.hypothesis.filter);
    }
  }
  return own;
}

}  // namespace

LaunchEstimate estimate_launches(const LaunchModel& from, const std::vector<LaunchWindow>& windows,
                                 const std::vector<Smoothing>& smoothing, bool pooled) {
  LaunchEstimate out{from, {}};
  if (windows.empty()) {
    return out;
  }
  LaunchModel& model = out.model;
  const std::vector<LaunchWindow> some = some_of(windows);
  // A first look at few launches settles the jerk density, on which the evidence depends.
  const std::vector<LaunchWindow> few(
      some.begin(), some.begin() + static_cast<std::ptrdiff_t>(std::min(some.size(), few_launches)));
  const LaunchHypothesis first =
      weighted(first_look_hypotheses(smoothing, full_acceleration(few, model, {})), model, few, rough_grid, 1)
          .front()
          .hypothesis;
  model.motion.jerk_density = map_jerk_density(model, placed(few, model, first), first);
  const std::vector<WeightedHypothesis> shared =
      weighted(full_throttle_hypotheses(smoothing, full_acceleration(some, model, first)), model, some,
               evidence_grid, most_pooled);
  const LaunchHypothesis& best = shared.front().hypothesis;
  const std::vector<PlacedLaunch> launches = placed(some, model, best);
  model.motion.jerk_density = map_jerk_density(model, launches, best);
  model.white_factor = map_white_factor(model, launches, best);
  out.hypotheses =
      pooled ? std::vector(windows.size(), shared) : own_hypotheses(windows, model, smoothing, best);
  return out;
}

}  // namespace bothways
