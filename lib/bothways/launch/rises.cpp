#include "bothways/launch/rises.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace bothways {

namespace {

constexpr double before_knee_s = 1.0;
constexpr double before_knee_widths = 2.0;  // of what the path makes of a sharp one
constexpr double spline_width = 3.05;       // 4 u, where the kernel [SILVERMAN84] holds a quarter within 0..u
constexpr double most_widths = 2.0;         // a wider fall is no blurred knee
constexpr double knee_share = 0.35;
constexpr double goes_on_share = 0.5;
constexpr double longest_plateau_s = 1.5;
constexpr double least_dip_sds = 1.0;  // between two rises

double accel_at(const SmoothedPath& path, std::size_t i) {
  return path.mean[i](numeric::i_a);
}

/// Where the acceleration falls below a level between a point and the one before.
double fall_time(const SmoothedPath& path, std::size_t i, double level) {
  const double above = accel_at(path, i - 1) - level;
  const double fall = accel_at(path, i - 1) - accel_at(path, i);
  return path.t_s[i - 1] +
         (path.t_s[i] - path.t_s[i - 1]) * (fall > 0.0 ? std::clamp(above / fall, 0.0, 1.0) : 0.0);
}

/// Width of the fall that the path makes of one of the acceleration at once, s. For the path of a Wiener
/// acceleration the ratio of the sds of v and a is the scale of its kernel; a slow error only adds to it.
double resolved_s(const SmoothedPath& path, std::size_t i) {
  const double of_v = std::max(0.0, path.cov[i](numeric::i_v, numeric::i_v));
  const double of_a = path.cov[i](numeric::i_a, numeric::i_a);
  return of_a > 0.0 ? spline_width * std::sqrt(of_v / of_a) : 0.0;
}

/// Likewise, where steps make a fall wider.
double resolved_by_steps_s(const SmoothedPath& path, std::size_t i) {
  return std::hypot(resolved_s(path, i), 2.0 * (path.t_s[i] - path.t_s[i - 1]));
}

/// A plateau and the knee before it.
struct Plateau {
  Rise rise;  ///< from its steepest point to its flattest
  double knee_mps = 0.0;
  double blur_mps = 0.0;   ///< what the path is lower by at a sharp knee
  double least_mps = 0.0;  ///< likewise, for no path shows more than its steps
};

/// The fall of the acceleration from a steep point to the flattest one of the plateau that begins at `begin`.
Plateau plateau_of(const SmoothedPath& path, std::size_t steepest, std::size_t begin, std::size_t flattest) {
  const double slope = accel_at(path, steepest);
  const double drop = slope - accel_at(path, flattest);
  const auto first_below = [&](std::size_t i, double level) {
    while (accel_at(path, i) > level) {
      ++i;
    }
    return i;
  };
  std::size_t falls = first_below(begin, slope - 0.25 * drop);
  while (falls > steepest + 1 && accel_at(path, falls - 1) < slope - 0.25 * drop) {
    --falls;
  }
  const double middle_mps2 = slope - 0.5 * drop;
  const std::size_t knee = first_below(falls, middle_mps2);
  const double knee_s = fall_time(path, knee, middle_mps2);
  const double middle_s = fall_time(path, first_below(knee, slope - 0.75 * drop), slope - 0.75 * drop) -
                          fall_time(path, falls, slope - 0.25 * drop);
  const double step_s = path.t_s[knee] - path.t_s[knee - 1];
  const double blurred_s =
      std::min(2.0 * std::sqrt(std::max(0.0, middle_s * middle_s - step_s * step_s)), resolved_s(path, knee));
  const double least_mps = drop * step_s / 16.0;
  return {.rise = {.valley = steepest,
                   .peak = flattest,
                   .knee = knee,
                   .knee_slope = slope,
                   .knee_width_s = 2.0 * middle_s},
          .knee_mps = cubic_of(path, knee - 1, numeric::i_v).value(knee_s),
          .blur_mps = std::max(drop * blurred_s / 8.0, least_mps),
          .least_mps = least_mps};
}

/// How much higher than the peak of the path the knee was: it was evenly up to twice what the path is lower
/// by.
void round_off(const Plateau& plateau, double peak_mps, Rise& rise) {
  const double twice = 2.0 * plateau.blur_mps;
  const double left = std::clamp(twice - (peak_mps - plateau.knee_mps), 0.0, twice);
  const double mean = left * left / (2.0 * twice);
  const double variance = left * left * left / (3.0 * twice) - mean * mean;
  rise.rounded_off = std::max(mean, plateau.least_mps);
  rise.rounded_sd = std::max(std::sqrt(variance), plateau.least_mps / std::sqrt(3.0));
}

/// The plateau whose acceleration falls below a share of the steepest before at a point, if it goes on soon:
/// from its steepest point to its flattest.
std::optional<Plateau> plateau_at(const SmoothedPath& path, std::size_t begin) {
  const auto accel = [&](std::size_t i) { return accel_at(path, i); };
  std::size_t steepest = begin;
  const double before_s = std::min(before_knee_s, before_knee_widths * resolved_by_steps_s(path, begin));
  for (std::size_t k = begin; k-- > 0 && path.t_s[begin] - path.t_s[k] <= before_s;) {
    steepest = accel(k) > accel(steepest) ? k : steepest;
  }
  const double slope = accel(steepest);
  if (slope <= 0.0 || accel(begin) >= knee_share * slope) {
    return std::nullopt;
  }
  std::size_t flattest = begin;
  for (std::size_t k = begin; k < path.t_s.size() && path.t_s[k] - path.t_s[begin] <= longest_plateau_s;
       ++k) {
    flattest = accel(k) < accel(flattest) - 1e-9 ? k : flattest;
    if (accel(k) > goes_on_share * slope) {
      Plateau plateau = plateau_of(path, steepest, begin, flattest);
      if (plateau.rise.knee_width_s > most_widths * resolved_by_steps_s(path, plateau.rise.knee)) {
        return std::nullopt;  // the readings themselves show it
      }
      plateau.rise.goes_on = k;
      return plateau;
    }
  }
  return std::nullopt;
}

/// Plateaus of the speed up to a time, as gear changes make them.
std::vector<Plateau> plateaus_until(const SmoothedPath& path, double end_s) {
  std::vector<Plateau> out;
  for (std::size_t i = 1; i < path.t_s.size() && path.t_s[i] <= end_s; ++i) {
    if (const auto plateau = plateau_at(path, i)) {
      out.push_back(*plateau);
      i = plateau->rise.goes_on;
    }
  }
  return out;
}

std::size_t lowest_of(const SmoothedPath& path, int row, std::size_t from, std::size_t to) {
  std::size_t lowest = from;
  for (std::size_t i = from; i <= to; ++i) {
    lowest = path.mean[i](row) < path.mean[lowest](row) ? i : lowest;
  }
  return lowest;
}

}  // namespace

std::vector<Rise> rises_until(const SmoothedPath& path, int row, double end_s) {
  const std::vector<Plateau> plateaus =
      row == numeric::i_v ? plateaus_until(path, end_s) : std::vector<Plateau>{};
  std::vector<Rise> out;
  Rise now;
  std::size_t low = 0;  // since the peak
  auto plateau = plateaus.begin();
  const auto value = [&](std::size_t i) { return path.mean[i](row); };
  for (std::size_t i = 1; i < path.t_s.size() && path.t_s[i] <= end_s; ++i) {
    const bool above = value(i) > value(now.peak);
    if (plateau != plateaus.end() && i > plateau->rise.peak && (above || i >= plateau->rise.goes_on)) {
      const Plateau passed = *plateau++;
      if (now.peak > passed.rise.valley) {
        Rise before = passed.rise;
        before.valley = now.valley;
        before.peak = now.peak;
        round_off(passed, value(now.peak), before);
        out.push_back(before);
        now = {.valley = lowest_of(path, row, before.peak, i), .peak = i, .knee = i};
        low = i;
        continue;
      }
    }
    if (above) {
      const double dip = value(now.peak) - value(low);
      if (low > now.peak && dip > least_dip_sds * std::sqrt(path.cov[low](row, row))) {
        out.push_back(now);
        now = {.valley = low};
      }
      now.knee = now.peak = low = i;
    } else if (value(i) < value(low)) {
      low = i;
    }
  }
  out.push_back(now);
  return out;
}

}  // namespace bothways
