// docs/method.md, eq. (1.7): 2 D / a = spread_s2.
#include "bothways/speed/brake_ends.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <vector>

namespace bothways {

namespace {

// A brake is looked at between these speeds, for its straight line, and for so long after it.
constexpr double line_from_mps = 4.0;
constexpr double line_to_mps = 1.0;
constexpr double longest_brake_s = 4.0;
constexpr double tail_s = 1.5;
constexpr double swing_s = 0.27;  // a tracker of 0.6 s swings back as high, times the deceleration
constexpr double most_hold_mps = 0.3;
constexpr double least_decel_mps2 = 0.8;
constexpr std::size_t least_line_rows = 3;
constexpr double uneven_share = 0.15;  // of the travel below the line: no brake is quite even

/// The straight line of a brake: v = decel (zero_s - t).
struct BrakeLine {
  double decel_mps2 = 0.0;
  double zero_s = 0.0;
  double sd_at_end_mps = 0.0;  ///< of the line's speed where it ends
};

std::optional<BrakeLine> brake_line(const Stretch& s, std::size_t begin, std::size_t end, double noise_mps) {
  const auto n = static_cast<double>(end - begin);
  double mean_t = 0.0;
  double mean_v = 0.0;
  for (std::size_t i = begin; i < end; ++i) {
    mean_t += s.t_s[i] / n;
    mean_v += s.v_mps[i] / n;
  }
  double tt = 0.0;
  double tv = 0.0;
  for (std::size_t i = begin; i < end; ++i) {
    tt += (s.t_s[i] - mean_t) * (s.t_s[i] - mean_t);
    tv += (s.t_s[i] - mean_t) * (s.v_mps[i] - mean_v);
  }
  const double decel = -tv / tt;
  if (!(decel > least_decel_mps2)) {
    return std::nullopt;
  }
  const double to_end = s.t_s[end - 1] - mean_t;
  return BrakeLine{decel, mean_t + mean_v / decel, noise_mps * std::sqrt(1.0 / n + to_end * to_end / tt)};
}

/// Speed of a reading near rest, the mean length of its noise taken off.
double above_noise(double v_mps, const Receiver& r) {
  const double mean_length = r.standing_axes == 2 ? 1.25 : 0.80;  // of normal noise, in its sd
  return v_mps < 2.5 * r.standing_sd_mps ? v_mps - mean_length * r.standing_sd_mps : v_mps;
}

/// Whether the end of a brake is written, and not held to 0 from some speed on: what is then not written is
/// just what tells of smoothing.
bool is_written_to_the_end(const Stretch& s, std::size_t from, std::size_t to, double hold_mps) {
  constexpr double hardly_moving_mps = 0.12;
  for (std::size_t i = from; i <= to && hold_mps > hardly_moving_mps; ++i) {
    if (s.v_mps[i] == 0.0) {
      return s.v_mps[i - 1] < hardly_moving_mps;
    }
  }
  return true;
}

/// The brake that comes to rest at a row, if it is straight and the vehicle then stands.
std::optional<BrakeEnd> brake_end_at(const Stretch& s, std::size_t rest, const Receiver& r, double rest_mps) {
  std::size_t end = rest;
  while (end > 0 && s.v_mps[end - 1] < line_to_mps) {
    --end;
  }
  std::size_t begin = end;
  while (begin > 0 && s.v_mps[begin - 1] > s.v_mps[begin] - 0.3 && s.v_mps[begin - 1] < line_from_mps &&
         s.t_s[rest] - s.t_s[begin - 1] < longest_brake_s) {
    --begin;
  }
  const double noise_mps = total_noise_mps(r);
  const auto line = end - begin >= least_line_rows ? brake_line(s, begin, end, noise_mps) : std::nullopt;
  if (!line || s.t_s[rest] - s.t_s[end - 1] > tail_s) {
    return std::nullopt;
  }
  double travel_m = 0.0;
  double squares = 0.0;
  std::size_t i = end - 1;
  for (; i + 1 < s.t_s.size() && s.t_s[i] < line->zero_s + tail_s; ++i) {
    const double dt_s = s.t_s[i + 1] - s.t_s[i];
    if (i >= rest && s.v_mps[i] > std::max(2.0 * rest_mps, swing_s * line->decel_mps2)) {
      return std::nullopt;  // it went on
    }
    travel_m += 0.5 * dt_s * (above_noise(s.v_mps[i], r) + above_noise(s.v_mps[i + 1], r));
    squares += dt_s * dt_s * noise_mps * noise_mps;
  }
  if (s.t_s[i] < line->zero_s + tail_s || !is_written_to_the_end(s, end, i, r.zero_hold_mps)) {
    return std::nullopt;
  }
  const double left_s = std::max(0.0, line->zero_s - s.t_s[end - 1]);
  const double below_m = 0.5 * line->decel_mps2 * left_s * left_s;
  const double sd_m =
      std::sqrt(squares + std::pow(left_s * line->sd_at_end_mps, 2) + std::pow(uneven_share * below_m, 2));
  return BrakeEnd{2.0 * (travel_m - below_m) / line->decel_mps2, 2.0 * sd_m / line->decel_mps2,
                  line->decel_mps2, rebound_after(s, end, line->zero_s)};
}

}  // namespace

std::vector<BrakeEnd> brake_ends(const std::vector<Stretch>& stretches, const Receiver& receiver,
                                 double rest_mps) {
  std::vector<BrakeEnd> out;
  if (receiver.zero_hold_mps > most_hold_mps) {
    return out;  // the end of a brake is not written
  }
  for (const Stretch& s : stretches) {
    bool rode = false;  // since the last rest
    for (std::size_t i = 1; i < s.t_s.size(); ++i) {
      rode = rode || s.v_mps[i] > line_from_mps;
      if (rode && s.v_mps[i] < rest_mps) {
        rode = false;
        if (const auto end = brake_end_at(s, i, receiver, rest_mps)) {
          out.push_back(*end);
        }
      }
    }
  }
  return out;
}

}  // namespace bothways
