#include "bothways/speed/positions.hpp"

#include "bothways/numeric/robust.hpp"
#include "bothways/numeric/track.hpp"
#include "bothways/speed/frozen.hpp"
#include "bothways/speed/limits.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bothways {

namespace {

constexpr double rest_mps = RestLimits::first_look_of_positions_mps;
constexpr double rest_lag_s = 3.0;
// Filtered positions go astray in motion by as much a second, and look smooth: nothing in the log tells, but
// where they are not frozen at rest. Phones beside a wheel: 0.3 to 1.5 m a second; loggers: no source.
constexpr double phone_stray_mps = 1.0;
constexpr double logger_stray_mps = 0.08;
// A receiver that holds its place at rest lets go late and catches up: as by receivers that let go at 0.6 m/s
// and a second or two (decision 0055).
constexpr double static_hold_stray_mps = 0.35;
constexpr double holds_from = 0.5;  // of the samples at rest

/// White noise of a position, one axis, from third differences: exact for fast logs; for slow ones the quiet
/// (standing, steady) part of the ride decides.
double white_position_sd(const SpeedSeries& series, double rate_hz) {
  std::vector<double> third;
  for (const Stretch& s : series.stretches) {
    for (const auto* axis : {&s.east_m, &s.north_m}) {
      for (std::size_t i = 0; i + 3 < axis->size(); ++i) {
        third.push_back(std::abs((*axis)[i + 3] - 3 * (*axis)[i + 2] + 3 * (*axis)[i + 1] - (*axis)[i]));
      }
    }
  }
  // |N|: the median is 0.674 sd, the 20 % quantile 0.253 sd.
  const double sd = rate_hz >= 4.0 ? numeric::quantile(std::move(third), 0.5) / 0.674
                                   : numeric::quantile(std::move(third), 0.2) / 0.253;
  return std::clamp(sd / std::sqrt(20.0), 0.003, 3.0);
}

/// Whether the receiver holds its place at rest: places there mostly repeat to the last digit.
bool has_static_hold(const SpeedSeries& series) {
  const double step_m = position_step_m(series.stretches);
  std::size_t at_rest = 0;
  std::size_t held = 0;
  for (const Stretch& s : series.stretches) {
    const std::vector<char> frozen = frozen_samples(s, step_m, step_m / least_hold_s);
    for (std::size_t i = 0; i < s.t_s.size(); ++i) {
      at_rest += s.v_mps[i] < rest_mps ? 1U : 0U;
      held += s.v_mps[i] < rest_mps && frozen[i] != 0 ? 1U : 0U;
    }
  }
  return static_cast<double>(held) > holds_from * static_cast<double>(at_rest);
}

double stray_sd_mps(const SpeedSeries& series, double rate_hz) {
  if (rate_hz < phone_positions_below_hz) {
    return phone_stray_mps;
  }
  return has_static_hold(series) ? static_hold_stray_mps : logger_stray_mps;
}

void smooth(SpeedSeries& series) {
  const Receiver& r = series.receiver;
  const numeric::TrackNoise noise{.white_sd = r.position_white_sd_m,
                                  .drift_sd = r.position_drift_sd_m,
                                  .drift_time_s = r.position_drift_time_s};
  for (Stretch& s : series.stretches) {
    const numeric::TrackVelocity v = numeric::smooth_track(s.t_s, s.east_m, s.north_m, noise);
    for (std::size_t i = 0; i < s.t_s.size(); ++i) {
      s.v_mps[i] = std::hypot(v.east_mps[i], v.north_mps[i]);
    }
    s.sd_mps = v.sd_mps;
  }
}

/// Drift of the positions while at rest; the usual figure if the log has no rest.
double drift_sd(const SpeedSeries& series, double rate_hz) {
  const Receiver& r = series.receiver;
  const auto lag = static_cast<std::size_t>(std::max(1L, std::lround(rest_lag_s * rate_hz)));
  std::vector<double> moves;
  for (const Stretch& s : series.stretches) {
    for (std::size_t i = 0; i + lag < s.t_s.size(); ++i) {
      const bool rest =
          s.v_mps[i] < rest_mps && s.v_mps[i + lag] < rest_mps && s.v_mps[i + lag / 2] < rest_mps;
      if (rest) {
        moves.push_back(s.east_m[i + lag] - s.east_m[i]);
        moves.push_back(s.north_m[i + lag] - s.north_m[i]);
      }
    }
  }
  if (moves.size() < 20) {
    return r.position_drift_sd_m;
  }
  const double sd = numeric::robust_sd(moves);
  const double drift = std::max(0.0, sd * sd - 2.0 * r.position_white_sd_m * r.position_white_sd_m);
  const double share = 2.0 * (1.0 - std::exp(-rest_lag_s / r.position_drift_time_s));
  return std::clamp(std::sqrt(drift / share), 0.02, 6.0);
}

}  // namespace

void speed_from_positions(SpeedSeries& series, double rate_hz) {
  series.receiver.rate_hz = rate_hz;
  series.receiver.position_white_sd_m = white_position_sd(series, rate_hz);
  smooth(series);
  series.receiver.position_drift_sd_m = drift_sd(series, rate_hz);
  smooth(series);
  series.receiver.position_stray_sd_mps = stray_sd_mps(series, rate_hz);
  std::vector<double> at_rest;
  std::vector<double> all;
  for (const Stretch& s : series.stretches) {
    for (std::size_t i = 0; i < s.t_s.size(); ++i) {
      all.push_back(s.sd_mps[i]);
      if (s.v_mps[i] < rest_mps) {
        at_rest.push_back(s.v_mps[i] * s.v_mps[i]);
      }
    }
  }
  series.receiver.white_sd_mps = std::clamp(numeric::quantile(all, 0.5), 0.01, 1.0);
  series.receiver.slow_sd_mps = 0.0;
  series.receiver.standing_axes = 2;
  const double square = numeric::quantile(at_rest, 0.5);
  series.receiver.standing_sd_mps = std::clamp(std::sqrt(square / 1.386), 0.02, 1.0);
}

}  // namespace bothways
