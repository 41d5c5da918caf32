#include "bothways/launch/rises.hpp"

#include <cmath>
#include <optional>

namespace bothways {

namespace {

constexpr double before_knee_s = 1.0;
constexpr double knee_share = 0.35;
constexpr double falls_share = 0.9;
constexpr double goes_on_share = 0.5;
constexpr double longest_plateau_s = 1.5;
constexpr double least_dip_sds = 1.0;  // between two rises

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

}  // namespace

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

}  // namespace bothways
