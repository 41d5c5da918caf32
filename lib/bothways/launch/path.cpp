#include "bothways/launch/path.hpp"

#include "bothways/launch/forward_pass.hpp"
#include "bothways/numeric/crossing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bothways {

using numeric::State;

namespace {

constexpr double least_accel_mps2 = 0.05;  // a slower crossing has no time worth the name
constexpr double least_speed_mps = 0.05;
constexpr double before_knee_s = 1.0;
constexpr double knee_share = 0.35;
constexpr double falls_share = 0.9;
constexpr double goes_on_share = 0.5;
constexpr double longest_plateau_s = 1.5;
constexpr double least_dip_sds = 1.0;  // between two rises
constexpr double least_peak_variance = 1e-12;
constexpr double least_probability = 0.01;

numeric::Cubic piece(const SmoothedPath& path, std::size_t i, int row) {
  return {path.t_s[i],           path.t_s[i + 1],       path.mean[i](row),
          path.mean[i + 1](row), path.mean[i](row + 1), path.mean[i + 1](row + 1)};
}

/// The backward filter after one launch, down to the first time after it. Row i: time first + i.
struct SmootherPass {
  std::vector<numeric::BackwardGain> gain;  ///< where readings are near rest; later those of the whole window
  std::vector<numeric::Information> info;
  std::vector<State> input;  ///< of the step that ends there
};

SmootherPass smoother_pass(const BackwardPass& pass, const LaunchEntry& entry) {
  const std::size_t first = entry.first;
  const std::size_t n = pass.grid.t_s.size();
  SmootherPass out;
  out.info.resize(n - first);
  out.input.assign(n - first, State::Zero());
  for (std::size_t k = first + 1; k < n; ++k) {
    out.input[k - first] = pass.step[k - 1].g * expected_jerk(entry, k);
  }
  const ForwardPass forward = forward_pass(pass, entry);
  const std::size_t linear = forward.site.size();
  const auto shaped = information_with_shape(pass, entry, first + linear);
  for (std::size_t i = linear; i < out.info.size(); ++i) {
    out.info[i] = i - linear < shaped.size() ? shaped[i - linear] : pass.info[first + i];
  }
  out.gain.resize(linear);
  for (std::size_t i = linear; i-- > 0;) {
    out.gain[i] = numeric::backward_gain(pass.step[first + i], out.info[i + 1].matrix);
    out.info[i] = numeric::predict_back(out.gain[i], out.info[i + 1], out.input[i + 1]);
    if (forward.site[i]) {
      out.info[i] = numeric::update(out.info[i], *forward.site[i]);
    }
  }
  return out;
}

void reserve(SmoothedPath& path, std::size_t points) {
  path.t_s.reserve(points);
  path.mean.reserve(points);
  path.cov.reserve(points);
  path.lagged.reserve(points);
}

void append(SmoothedPath& path, double t_s, const numeric::SmoothedTransition& step) {
  const numeric::Gaussian next = numeric::predict({path.mean.back(), path.cov.back()}, step);
  path.lagged.push_back(step.a);
  path.t_s.push_back(t_s);
  path.mean.push_back(next.mean);
  path.cov.push_back(next.cov);
}

}  // namespace

SmoothedPath smoothed_path(const BackwardPass& pass, const LaunchShape& shape, double t0_s) {
  const LaunchEntry entry = launch_entry(pass, shape, t0_s);
  const SmootherPass back = smoother_pass(pass, entry);
  const State entry_input = entry.step.g * entry.jerk.front();
  const numeric::BackwardGain entry_gain = numeric::backward_gain(entry.step, back.info.front().matrix);
  const numeric::Gaussian start =
      numeric::combine(entry.prior, numeric::predict_back(entry_gain, back.info.front(), entry_input)).state;
  SmoothedPath path;
  reserve(path, back.info.size() + 1);
  path.t_s.push_back(t0_s);
  path.mean.push_back(start.mean);
  path.cov.push_back(start.cov);
  append(path, pass.grid.t_s[entry.first],
         numeric::smoothed_transition(entry_gain, back.info.front(), entry_input));
  for (std::size_t i = 0; i + 1 < back.info.size(); ++i) {
    const numeric::BackwardGain& gain = i < back.gain.size() ? back.gain[i] : pass.gain[entry.first + i];
    append(path, pass.grid.t_s[entry.first + i + 1],
           numeric::smoothed_transition(gain, back.info[i + 1], back.input[i + 1]));
  }
  return path;
}

std::optional<Crossing> first_crossing(const SmoothedPath& path, const Level& level, double end_s,
                                       std::size_t from) {
  for (std::size_t i = from; i + 1 < path.t_s.size(); ++i) {
    if (!(path.mean[i](level.row) < level.value && level.value <= path.mean[i + 1](level.row))) {
      continue;
    }
    const numeric::Cubic cubic = piece(path, i, level.row);
    const auto t = cubic.t0 < end_s ? numeric::rising_crossing(cubic, level.value) : std::nullopt;
    if (!t || *t > end_s) {
      return std::nullopt;
    }
    const double least = level.row == numeric::i_v ? least_accel_mps2 : least_speed_mps;
    return Crossing{*t, std::max(cubic.slope(*t), least), i + 1, level.row};
  }
  return std::nullopt;
}

namespace {

/// A rise of the mean path: from a valley to a peak. Where it ends in a plateau its steep part ends at a
/// knee, which the smoothed path rounds off: the peak was higher than it shows.
struct Rise {
  std::size_t valley = 0;
  std::size_t peak = 0;
  std::size_t knee = 0;       ///< = peak where there is none
  std::size_t goes_on = 0;    ///< where the path is steep again
  double knee_slope = 0.0;    ///< before it
  double knee_width_s = 0.0;  ///< the time over which the path falls from that to its least slope
  double rounded_off = 0.0;   ///< what a sharp knee would reach beyond the path
};

/// The plateau whose acceleration falls below a share of the steepest before at a point, if it goes on soon.
std::optional<Rise> plateau_at(const SmoothedPath& path, std::size_t begin) {
  const auto accel = [&](std::size_t i) { return path.mean[i](numeric::i_a); };
  std::size_t steepest = begin;
  for (std::size_t k = begin; k-- > 0 && path.t_s[begin] - path.t_s[k] <= before_knee_s;) {
    steepest = accel(k) > accel(steepest) ? k : steepest;
  }
  const double slope = accel(steepest);
  if (accel(begin) >= knee_share * slope) {
    return std::nullopt;
  }
  std::size_t flattest = begin;
  for (std::size_t k = begin; k < path.t_s.size() && path.t_s[k] - path.t_s[begin] <= longest_plateau_s;
       ++k) {
    flattest = accel(k) < accel(flattest) - 1e-9 ? k : flattest;
    if (accel(k) > goes_on_share * slope) {
      std::size_t falls = flattest;
      std::size_t knee = flattest;
      while (falls > steepest && accel(falls) < falls_share * slope) {
        --falls;
        knee = accel(falls) < 0.5 * (slope + accel(flattest)) ? falls : knee;
      }
      const double width_s = path.t_s[flattest] - path.t_s[falls];
      return Rise{0, flattest, knee, k, slope, width_s, (slope - accel(flattest)) * width_s / 8.0};
    }
  }
  return std::nullopt;
}

/// Plateaus of the speed up to a time, as gear changes make them.
std::vector<Rise> plateaus_until(const SmoothedPath& path, double end_s) {
  std::vector<Rise> out;
  for (std::size_t i = 1; i < path.t_s.size() && path.t_s[i] <= end_s; ++i) {
    if (const auto plateau = plateau_at(path, i)) {
      out.push_back(*plateau);
      i = plateau->goes_on;
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

/// Rises up to a time, parted by dips of more than the path's own uncertainty and by plateaus.
std::vector<Rise> rises_until(const SmoothedPath& path, int row, double end_s) {
  const std::vector<Rise> plateaus = row == numeric::i_v ? plateaus_until(path, end_s) : std::vector<Rise>{};
  std::vector<Rise> out;
  Rise now;
  std::size_t low = 0;  // since the peak
  auto plateau = plateaus.begin();
  const auto value = [&](std::size_t i) { return path.mean[i](row); };
  for (std::size_t i = 1; i < path.t_s.size() && path.t_s[i] <= end_s; ++i) {
    if (value(i) > value(now.peak)) {
      const double dip = value(now.peak) - value(low);
      if (low > now.peak && dip > least_dip_sds * std::sqrt(path.cov[low](row, row))) {
        out.push_back(now);
        now = {.valley = low};
      }
      now.knee = now.peak = low = i;
    } else if (value(i) < value(low)) {
      low = i;
    }
    if (plateau != plateaus.end() && i == plateau->goes_on) {
      Rise before = *plateau++;
      before.valley = now.valley;
      before.peak = value(now.peak) > value(before.peak) && now.peak < before.peak ? now.peak : before.peak;
      out.push_back(before);
      now = {.valley = lowest_of(path, row, before.peak, i), .peak = i, .knee = i};
      low = i;
    }
  }
  out.push_back(now);
  return out;
}

/// The probability that a rise reaches a level, eq. (5.1).
double reaches(const SmoothedPath& path, const Rise& rise, const Level& level) {
  constexpr double even_sd = 0.58;  // of what is rounded off: evenly from none to twice it
  const double variance = std::max(path.cov[rise.peak](level.row, level.row), least_peak_variance) +
                          std::pow(even_sd * rise.rounded_off, 2);
  const double above = path.mean[rise.peak](level.row) + rise.rounded_off - level.value;
  return 0.5 * std::erfc(-above / std::sqrt(2.0 * variance));
}

/// The crossing of a rise: where its mean crosses the level, at its knee if that stays below, or where it
/// begins if that lies above.
Crossing crossing_in(const SmoothedPath& path, const Rise& rise, const Level& level, double end_s) {
  const auto at = first_crossing(path, level, end_s, rise.valley);
  if (at && at->index <= rise.peak) {
    return *at;
  }
  const double least = level.row == numeric::i_v ? least_accel_mps2 : least_speed_mps;
  const bool begins_above = rise.valley > 0 && path.mean[rise.valley](level.row) >= level.value;
  const std::size_t point = begins_above ? rise.valley : rise.knee;
  const double span_s = std::max(path.t_s[rise.knee] - path.t_s[rise.valley], 1e-3);
  double slope = (path.mean[rise.knee](level.row) - path.mean[rise.valley](level.row)) / span_s;
  if (rise.knee_width_s > 0.0) {  // anywhere in it
    slope = std::min(rise.knee_slope,
                     std::sqrt(12.0 * path.cov[point](level.row, level.row)) / rise.knee_width_s);
  }
  return {path.t_s[point], std::max(slope, least), point, level.row};
}

}  // namespace

std::vector<LikelyCrossing> likely_crossings(const SmoothedPath& path, const Level& level, double end_s) {
  std::vector<LikelyCrossing> out;
  double not_yet = 1.0;
  for (const Rise& rise : rises_until(path, level.row, end_s)) {
    if (rise.peak == 0) {
      continue;
    }
    const double reached = reaches(path, rise, level);
    const double probability = not_yet * reached;
    if (probability >= least_probability) {
      out.push_back({probability, crossing_in(path, rise, level, end_s)});
    }
    not_yet *= 1.0 - reached;
  }
  return out;
}

double crossing_variance(const SmoothedPath& path, const Crossing& at) {
  return std::max(0.0, path.cov[at.index](at.row, at.row)) / (at.slope * at.slope);
}

std::vector<double> crossing_covariances(const SmoothedPath& path, const Crossing& from,
                                         const std::vector<std::optional<Crossing>>& to) {
  std::vector<double> out(to.size(), 0.0);
  std::size_t at = from.index;
  State cov = path.cov[at].col(from.row);  // of what is crossed there with the state at `at`
  for (std::size_t k = 0; k < to.size(); ++k) {
    if (!to[k] || to[k]->index < at) {
      continue;
    }
    for (; at < to[k]->index; ++at) {
      cov = path.lagged[at] * cov;
    }
    out[k] = cov(to[k]->row) / (from.slope * to[k]->slope);
  }
  return out;
}

double travel_at(const SmoothedPath& path, const Crossing& at) {
  return piece(path, at.index - 1, numeric::i_s).value(at.t_s);
}

}  // namespace bothways
