#include "bothways/speed/motion_noise.hpp"

#include "bothways/numeric/robust.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

namespace bothways {

namespace {

constexpr double accelerating_mps2 = 0.8;
constexpr std::size_t enough_rows = 60;
constexpr double third_difference_factor = 4.47213595499958;  // sqrt(1 + 9 + 9 + 1) of white noise
constexpr double surely_more = 1.2;                           // of two sd of some sixty rows
constexpr double short_span_s = 1.0;
constexpr double long_span_s = 3.0;
constexpr double straight_rad = 0.12;
constexpr double lagging_mps2 = 0.5;  // less says nothing of a lag
// The excess of a variance over the known one that counts: each is known to a fifth over a short span, to two
// fifths over a long one.
constexpr double surely_known = 1.4;
constexpr double surely_known_long = 2.0;

/// Rows i to i + count without a missing fix.
bool is_even(const Stretch& s, std::size_t i, std::size_t count, double dt_s) {
  return s.t_s[i + count] - s.t_s[i] < (static_cast<double>(count) + 0.3) * dt_s;
}

/// A second or so of riding: mean speed as read, less that between the positions at its ends and its middle.
struct Comparison {
  double difference_mps = 0.0;
  double accel_mps2 = 0.0;
};

bool compare(const Stretch& s, std::size_t i, std::size_t half, Comparison& out) {
  const std::size_t mid = i + half;
  const std::size_t end = i + 2 * half;
  const double east1 = s.east_m[mid] - s.east_m[i];
  const double north1 = s.north_m[mid] - s.north_m[i];
  const double east2 = s.east_m[end] - s.east_m[mid];
  const double north2 = s.north_m[end] - s.north_m[mid];
  const double length1 = std::hypot(east1, north1);
  const double length2 = std::hypot(east2, north2);
  if (!(length1 > 0.5) || !(length2 > 0.5) ||
      std::abs(east1 * north2 - north1 * east2) > straight_rad * length1 * length2) {
    return false;
  }
  double travel = 0.0;
  for (std::size_t k = i; k < end; ++k) {
    if (!is_valid(s, k) || s.v_mps[k] < moving_mps) {
      return false;
    }
    travel += 0.5 * (s.v_mps[k] + s.v_mps[k + 1]) * (s.t_s[k + 1] - s.t_s[k]);
  }
  const double span = s.t_s[end] - s.t_s[i];
  out = {(travel - length1 - length2) / span, (s.v_mps[end] - s.v_mps[i]) / span};
  return true;
}

/// What positions move by within a span while the vehicle stands, one axis, m; 0 where they are frozen,
/// nothing where it stands too seldom for so long.
std::optional<double> wander_at_rest_m(const std::vector<Stretch>& stretches, std::size_t rows,
                                       double rest_mps) {
  std::vector<double> moves;
  for (const Stretch& s : stretches) {
    for (std::size_t i = 0; i + rows < s.t_s.size(); i += rows) {
      const bool rest =
          s.v_mps[i] < rest_mps && s.v_mps[i + rows / 2] < rest_mps && s.v_mps[i + rows] < rest_mps;
      if (rest && std::isfinite(s.east_m[i]) && std::isfinite(s.east_m[i + rows])) {
        moves.push_back(s.east_m[i + rows] - s.east_m[i]);
        moves.push_back(s.north_m[i + rows] - s.north_m[i]);
      }
    }
  }
  return moves.size() < enough_rows / 2 ? std::nullopt : std::optional(numeric::robust_sd(moves));
}

/// The differences without what a common lag makes of them, round their middle.
std::vector<double> without_lag(const std::vector<Comparison>& all) {
  std::vector<double> lags;
  for (const Comparison& c : all) {
    if (std::abs(c.accel_mps2) > lagging_mps2) {
      lags.push_back(c.difference_mps / c.accel_mps2);
    }
  }
  const double lag_s = lags.size() < enough_rows / 2 ? 0.0 : numeric::quantile(std::move(lags), 0.5);
  std::vector<double> off;
  off.reserve(all.size());
  for (const Comparison& c : all) {
    off.push_back(c.difference_mps - lag_s * c.accel_mps2);
  }
  const double middle = numeric::quantile(off, 0.5);
  for (double& x : off) {
    x -= middle;
  }
  return off;
}

/// By the differences over one span; 0 where they are no more than what else is known to make them.
double slow_noise_over(double span_s, const std::vector<Stretch>& stretches, double rate_hz,
                       double white_sd_mps, double rest_mps) {
  const double dt_s = 1.0 / rate_hz;
  const auto half = static_cast<std::size_t>(std::max(1L, std::lround(0.5 * span_s * rate_hz)));
  std::vector<Comparison> all;
  for (const Stretch& s : stretches) {
    for (std::size_t i = 0; i + 2 * half < s.t_s.size(); i += half) {
      Comparison c;
      if (is_even(s, i, 2 * half, dt_s) && compare(s, i, half, c)) {
        all.push_back(c);
      }
    }
  }
  if (all.size() < enough_rows) {
    return 0.0;
  }
  const std::vector<double> off = without_lag(all);
  std::vector<double> accelerating;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (std::abs(all[i].accel_mps2) > accelerating_mps2) {
      accelerating.push_back(off[i]);
    }
  }
  double sd = numeric::robust_sd(off);
  if (accelerating.size() >= enough_rows / 2) {
    const double then = numeric::robust_sd(accelerating);
    sd = then > surely_more * sd ? then : sd;
  }
  const auto wander_m = wander_at_rest_m(stretches, 2 * half, rest_mps);
  if (!wander_m && span_s > short_span_s) {
    return 0.0;
  }
  const double wander_mps = wander_m.value_or(0.0) / (2.0 * static_cast<double>(half) * dt_s);
  const double beyond = span_s > short_span_s ? surely_known_long : surely_known;
  const double known = wander_mps * wander_mps + white_sd_mps * white_sd_mps / static_cast<double>(2 * half);
  return std::sqrt(std::max(sd * sd - beyond * known, 0.0));
}

}  // namespace

double white_noise_in_motion(const std::vector<Stretch>& stretches, double rate_hz) {
  const double dt_s = 1.0 / rate_hz;
  const auto span = static_cast<std::size_t>(std::max(3L, std::lround(0.5 * rate_hz)));
  std::vector<double> third;
  for (const Stretch& s : stretches) {
    for (std::size_t i = 0; i + span < s.t_s.size(); ++i) {
      const double accel = (s.v_mps[i + span] - s.v_mps[i]) / (s.t_s[i + span] - s.t_s[i]);
      const double lowest = std::min({s.v_mps[i], s.v_mps[i + 1], s.v_mps[i + 2], s.v_mps[i + 3]});
      if (std::abs(accel) > accelerating_mps2 && lowest > moving_mps && is_even(s, i, 3, dt_s)) {
        third.push_back(s.v_mps[i + 3] - 3.0 * s.v_mps[i + 2] + 3.0 * s.v_mps[i + 1] - s.v_mps[i]);
      }
    }
  }
  return third.size() < enough_rows ? 0.0 : numeric::robust_sd(third) / third_difference_factor;
}

double slow_noise_in_motion(const std::vector<Stretch>& stretches, double rate_hz, double white_sd_mps,
                            double rest_mps) {
  const double quick = slow_noise_over(short_span_s, stretches, rate_hz, white_sd_mps, rest_mps);
  // Over a longer span coarse positions tell more.
  return quick > 0.0 ? quick : slow_noise_over(long_span_s, stretches, rate_hz, white_sd_mps, rest_mps);
}

}  // namespace bothways
