#include "bothways/run/reach.hpp"

#include "bothways/core/units.hpp"
#include "bothways/numeric/robust.hpp"
#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

namespace bothways {

namespace {

// Common practice, no source, all of them; the fixtures of a moped and of scooters show both sides.
constexpr double like_the_best = 0.75;  // of its mean acceleration, as a start must have to be no gentle one
constexpr double not_aborted = 0.6;     // of the highest speed
constexpr double from_mps = 1.0;
constexpr double least_mps = 2.5;  // less is paddling
constexpr double held_s = 2.0;     // after a closed throttle a vehicle is slower by then
constexpr double held_share = 0.96;
constexpr double near_most = 0.9;  // of the log's highest speed, which a hill may have helped
constexpr double below_top = 11.0 / 12.0;
constexpr double surely = 0.99;  // of a speed that was passed with the throttle open
constexpr double above_top = 0.02;
constexpr double above_top_noises = 4.0;

/// Mean acceleration from a crawl to a speed.
double pull_mps2(const Stretch& stretch, const StandingStart& start, double to_mps) {
  const double from_t = time_at_speed(stretch, start.rest_end, start.end, from_mps);
  const double to_t = time_at_speed(stretch, start.rest_end, start.end, to_mps);
  return from_t >= 0.0 && to_t > from_t ? (to_mps - from_mps) / (to_t - from_t) : 0.0;
}

}  // namespace

double highest_speed_mps(const SpeedSeries& series) {
  double most = 0.0;
  for (const Stretch& stretch : series.stretches) {
    for (const double v_mps : stretch.smooth_mps) {
      most = std::max(most, v_mps);
    }
  }
  return most;
}

bool is_out_of_speed(const Stretch& stretch, const StandingStart& start, double most_mps) {
  if (start.top_mps < near_most * most_mps) {
    return false;
  }
  for (std::size_t i = start.end; i < stretch.smooth_mps.size(); ++i) {
    if (stretch.t_s[i] - stretch.t_s[start.end] >= held_s) {
      return true;
    }
    if (stretch.smooth_mps[i] < held_share * start.top_mps) {
      return false;
    }
  }
  return false;
}

std::vector<double> timed_up_to_mps(const SpeedSeries& series) {
  const Starts starts = detect_starts(series);
  const double most_mps = highest_speed_mps(series);
  const auto pull = [&](const StandingStart& start, double to_mps) {
    return pull_mps2(series.stretches[start.stretch], start, to_mps);
  };
  std::vector<double> up_to_mps;
  for (const StandingStart& start : starts.standing) {
    const double to_mps = 0.9 * start.top_mps;
    double best = 0.0;
    for (const StandingStart& other : starts.standing) {
      best = other.top_mps >= to_mps ? std::max(best, pull(other, to_mps)) : best;
    }
    if (start.top_mps >= least_mps && best > 0.0 && pull(start, to_mps) >= like_the_best * best) {
      const bool out = is_out_of_speed(series.stretches[start.stretch], start, most_mps);
      up_to_mps.push_back(start.top_mps * (out ? below_top : surely));
    }
  }
  return up_to_mps;
}

double reach_mps(std::vector<double> up_to_mps) {
  if (up_to_mps.empty()) {
    return 0.0;
  }
  const double highest = *std::max_element(up_to_mps.begin(), up_to_mps.end());
  up_to_mps.erase(std::remove_if(up_to_mps.begin(), up_to_mps.end(),
                                 [&](double up_to) { return up_to < not_aborted * highest; }),
                  up_to_mps.end());
  return numeric::quantile(std::move(up_to_mps), 0.25);
}

double least_time_s(const SplitSpec& spec) {
  const auto from_rest_s = [](const Mark& mark) {
    const auto* speed = std::get_if<Speed>(&mark);
    return speed != nullptr ? speed->mps() / OutlierLimits::most_accel_mps2
                            : std::sqrt(2.0 * std::get<Length>(mark).m() / OutlierLimits::most_accel_mps2);
  };
  return from_rest_s(spec.to) - from_rest_s(spec.from_rest() ? Mark{Length::from_m(rollout_m)} : spec.from);
}

std::vector<Split> within_reach(std::vector<Split> splits, double top_mps, double noise_mps) {
  std::erase_if(splits, [&](const Split& split) {
    const auto* speed = std::get_if<Speed>(&split.spec.to);
    return speed != nullptr && speed->mps() > (1.0 + above_top) * top_mps + above_top_noises * noise_mps;
  });
  return splits;
}

}  // namespace bothways
