// docs/method.md, eq. (1.3): sd_white = white.
#include "bothways/speed/noise.hpp"

#include "bothways/numeric/robust.hpp"
#include "bothways/speed/limits.hpp"
#include "bothways/speed/motion_noise.hpp"
#include "bothways/speed/resolution.hpp"
#include "bothways/speed/rest_noise.hpp"
#include "bothways/speed/rounded_rest.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>
#include <vector>

namespace bothways {

namespace {

constexpr double motion_below_hz = 3.0;   // slower logs: motion fills the third differences
constexpr double usual_slow_share = 0.5;  // of the variance, where the log cannot tell
constexpr double usual_slow_time_s = 5.0;
constexpr double least_sd_mps = 0.004;
constexpr double largest_sd_mps = 0.6;
// Of the white sd, where no positions tell of the slow noise: as much, if the noise at rest is that of motion
// and shows no more; else as half the variance correlates after a second, the most in open data.
constexpr double untold_slow_share = 1.0;
constexpr double untold_slow_share_quiet = 1.5;
// A receiver that holds its speed at rest filters or aids it, and its third differences may tell of nothing:
// in open data such receivers are off by 0.13 m/s and more in motion.
constexpr double untold_slow_held_mps = 0.08;
constexpr double most_slow_mps = 0.35;  // above, the positions wander
constexpr double quiet_at_rest = 1.5;
constexpr double slow_time_in_motion_s = 2.5;
constexpr std::size_t enough_at_rest = 40;  // readings
constexpr double first_look_steps = 2.5;    // of the written speed: readings at rest may be two of them

std::vector<double> moving_third_differences(const std::vector<Stretch>& stretches, double dt_s) {
  std::vector<double> out;
  for (const Stretch& s : stretches) {
    for (std::size_t i = 0; i + 3 < s.t_s.size(); ++i) {
      const double lowest = std::min({s.v_mps[i], s.v_mps[i + 1], s.v_mps[i + 2], s.v_mps[i + 3]});
      const bool even = s.t_s[i + 3] - s.t_s[i] < 3.3 * dt_s;
      if (lowest > moving_mps && even) {
        out.push_back(s.v_mps[i + 3] - 3.0 * s.v_mps[i + 2] + 3.0 * s.v_mps[i + 1] - s.v_mps[i]);
      }
    }
  }
  return out;
}

/// Whether a row comes after half a second of zeros.
bool follows_zeros(const Stretch& s, std::size_t row) {
  constexpr double zeros_s = 0.5;
  std::size_t i = row;
  while (i > 0 && s.v_mps[i - 1] == 0.0) {
    if (s.t_s[row] - s.t_s[--i] >= zeros_s) {
      return true;
    }
  }
  return false;
}

/// Where the hold lets go: by the speeds written just after zeros. Those before may be lower, for a receiver
/// holds only once it is sure of the standstill.
void estimate_hold(const std::vector<Stretch>& stretches, Receiver& out) {
  std::vector<double> low;
  for (const Stretch& s : stretches) {
    for (std::size_t i = 1; i < s.v_mps.size(); ++i) {
      const double v = s.v_mps[i];
      if (v > 0.0 && v < 2.5 && is_valid(s, i) && follows_zeros(s, i)) {
        low.push_back(v);
      }
    }
  }
  if (low.empty()) {
    out.zero_hold_mps = 1.0;  // nothing was ever seen below 2.5 m/s
    out.zero_hold_width_mps = 0.5;
    return;
  }
  std::sort(low.begin(), low.end());
  // A few stray low readings do not make the hold lower.
  const std::size_t stray = low.size() / 20;
  const double first = low[stray];
  const double third = low[std::min(low.size() - 1, stray + 2)];
  out.zero_hold_width_mps = std::clamp(third - first, 0.02, 0.4);
  out.zero_hold_mps = std::max(0.02, first - 0.5 * std::max(third - first, out.resolution_mps));
}

/// What the log itself says of its accuracy; 0 if nothing.
double own_accuracy(const Log& log) {
  std::vector<double> sd;
  for (const Fix& fix : log.fixes) {
    if (is_known(fix.speed_sd_mps)) {
      sd.push_back(fix.speed_sd_mps);
    }
  }
  return numeric::quantile(std::move(sd), 0.5);
}

/// Whether rounding may make the zeros at rest: then one step is what is written there besides. Of zeros
/// alone nobody can tell, and they count as held.
bool may_be_rounded(const RestNoise& rest) {
  return rest.is_coarse && rest.zeros * 20 < rest.samples * 19 && rest.steps.size() > 1 &&
         rest.steps[1] * 2 >= rest.samples - rest.zeros;
}

/// Whether zeros ever last for half a second, as held ones do.
bool zeros_last(const std::vector<Stretch>& stretches) {
  for (const Stretch& s : stretches) {
    for (std::size_t i = 1; i < s.v_mps.size(); ++i) {
      if (s.v_mps[i] > 0.0 && s.v_mps[i - 1] == 0.0 && follows_zeros(s, i)) {
        return true;
      }
    }
  }
  return false;
}

/// Zeros at rest are held, or rounded: one step, and not more, is what comes after the latter.
void judge_zeros(const std::vector<Stretch>& stretches, const RestNoise& rest, Receiver& out) {
  constexpr double too_coarse_mps = 0.2;  // zeros of such steps say nothing of a hold
  if (rest.samples == 0 || rest.zeros * 5 < rest.samples || out.resolution_mps >= too_coarse_mps) {
    return;
  }
  Receiver held = out;
  estimate_hold(stretches, held);
  const bool as_low = held.zero_hold_mps <= out.resolution_mps || !zeros_last(stretches);
  if (!(may_be_rounded(rest) && as_low)) {
    out = held;
  }
}

void share_out(const RestNoise& rest, double white_moving, Receiver& out) {
  const bool rounded = rest.is_coarse && out.zero_hold_mps <= 0.0;
  const bool enough = rest.samples >= enough_at_rest && (rounded || rest.zeros * 5 < rest.samples);
  const double ratio = rest.mean_square > 0.0 ? rest.mean * rest.mean / rest.mean_square : 0.637;
  if (!enough) {
    out.white_sd_mps = white_moving;
    out.slow_sd_mps = white_moving * std::sqrt(usual_slow_share / (1.0 - usual_slow_share));
    out.standing_sd_mps = total_noise_mps(out);
    return;
  }
  // Half-normal: mean^2 / mean square = 2/pi = 0.637; length of two noises: pi/4 = 0.785.
  out.standing_axes = ratio > 0.711 ? 2 : 1;
  double variance = rest.mean_square / out.standing_axes;
  if (rounded) {
    const RoundedRest found = rounded_rest(rest.steps, out.resolution_mps);
    out.standing_axes = found.axes;
    variance = found.sd_mps * found.sd_mps;
  }
  out.standing_sd_mps = std::clamp(std::sqrt(variance), least_sd_mps, largest_sd_mps);
  double white = white_moving;
  if (white <= 0.0) {
    const double share = rest.neighbour >= 0.0 ? std::sqrt(rest.neighbour) : usual_slow_share;
    white = out.standing_sd_mps * std::sqrt(std::clamp(1.0 - share, 0.1, 1.0));
  }
  if (out.rate_hz < motion_below_hz) {
    white = std::min(white, out.standing_sd_mps * std::sqrt(1.0 - usual_slow_share));
  }
  out.white_sd_mps = white;
  // What is at rest and is not white is slow; a third of the white variance at least, for a log is short. In
  // slow logs motion is in the white: there the usual share at least.
  const double least = out.rate_hz < motion_below_hz ? usual_slow_share * variance : white * white / 3.0;
  const double slow_variance = std::max(variance - white * white, least);
  out.slow_sd_mps = std::sqrt(slow_variance);
  out.slow_time_s = correlation_time_s(rest.correlations, usual_slow_time_s);
}

/// Noise at rest bounds that in motion from below only: in open data the latter is 4 to 12 times as large.
void account_for_motion(const std::vector<Stretch>& stretches, Receiver& out) {
  const double white = out.rate_hz < motion_below_hz ? 0.0 : white_noise_in_motion(stretches, out.rate_hz);
  out.white_sd_mps = std::max(out.white_sd_mps, white);
  double slow = slow_noise_in_motion(stretches, out.rate_hz, out.white_sd_mps,
                                     std::clamp(4.0 * out.standing_sd_mps, 0.15, 0.8));
  if (slow <= 0.0) {
    const bool quiet = out.standing_sd_mps < out.white_sd_mps;
    slow = std::max((quiet ? untold_slow_share_quiet : untold_slow_share) * out.white_sd_mps,
                    out.zero_hold_mps > 0.0 ? untold_slow_held_mps : 0.0);
  }
  slow = std::min(slow, most_slow_mps);
  if (slow > out.slow_sd_mps) {
    out.slow_sd_mps = slow;
    if (total_noise_mps(out) > quiet_at_rest * out.standing_sd_mps) {
      out.slow_time_s = slow_time_in_motion_s;  // that at rest is of other errors
    }
  }
}

}  // namespace

Receiver estimate_receiver(const std::vector<Stretch>& stretches, const Log& log, double rate_hz) {
  Receiver out;
  out.rate_hz = rate_hz;
  out.slow_time_s = usual_slow_time_s;
  const double dt_s = 1.0 / rate_hz;
  std::vector<double> speeds;
  speeds.reserve(log.fixes.size());
  for (const Stretch& s : stretches) {
    speeds.insert(speeds.end(), s.v_mps.begin(), s.v_mps.end());
  }
  out.resolution_mps = resolution_of(speeds);

  const double low_speed =
      std::clamp(std::max(numeric::quantile(std::move(speeds), 0.05) * 4.0 + RestLimits::first_look_least_mps,
                          first_look_steps * out.resolution_mps),
                 RestLimits::first_look_least_mps, RestLimits::first_look_most_mps);
  const RestNoise rest = noise_at_rest(stretches, low_speed, dt_s, out.resolution_mps);
  judge_zeros(stretches, rest, out);
  // Third differences of white noise: variance 1 + 9 + 9 + 1.
  double white = numeric::robust_sd(moving_third_differences(stretches, dt_s)) / std::sqrt(20.0);
  const double own = own_accuracy(log);
  if (rate_hz < motion_below_hz && own > 0.0) {
    white = std::min(white, own);
  }
  if (white > 0.0) {
    white = std::clamp(white, least_sd_mps, largest_sd_mps);
  }
  if (white <= 0.0 && !(rest.samples >= enough_at_rest)) {
    white = own > 0.0 ? own * std::numbers::sqrt2 / 2.0 : 0.1;
  }
  share_out(rest, white, out);
  account_for_motion(stretches, out);
  out.white_sd_mps = std::clamp(out.white_sd_mps, least_sd_mps, largest_sd_mps);
  out.slow_sd_mps = std::clamp(out.slow_sd_mps, 0.0, largest_sd_mps);
  out.standing_sd_mps = std::clamp(out.standing_sd_mps, least_sd_mps, largest_sd_mps);
  return out;
}

}  // namespace bothways
