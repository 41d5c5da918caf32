#pragma once

#include "bothways/launch/path.hpp"

#include <cstddef>
#include <vector>

/// Smoothed paths with given speeds.
namespace made_up {

/// Speeds at even steps, each with the same sd; travel is their sum.
/// @param scale_s  of the smoother's kernel: sd of v over that of a
inline bothways::SmoothedPath path_of(const std::vector<double>& v_mps, double sd_mps, double step_s = 0.1,
                                      double scale_s = 1.0) {
  bothways::SmoothedPath path;
  double s_m = 0.0;
  for (std::size_t i = 0; i < v_mps.size(); ++i) {
    bothways::numeric::State x = bothways::numeric::State::Zero();
    x(bothways::numeric::i_v) = v_mps[i];
    const std::size_t before = i == 0 ? 0 : i - 1;
    const std::size_t after = i + 1 == v_mps.size() ? i : i + 1;
    x(bothways::numeric::i_a) =
        (v_mps[after] - v_mps[before]) / (step_s * static_cast<double>(after - before));
    s_m += i == 0 ? 0.0 : 0.5 * step_s * (v_mps[i - 1] + v_mps[i]);
    x(bothways::numeric::i_s) = s_m;
    path.t_s.push_back(step_s * static_cast<double>(i));
    path.mean.push_back(x);
    path.cov.push_back(sd_mps * sd_mps * bothways::numeric::StateMatrix::Identity());
    path.cov.back()(bothways::numeric::i_a, bothways::numeric::i_a) /= scale_s * scale_s;
    if (i > 0) {
      path.lagged.push_back(bothways::numeric::StateMatrix::Identity());
    }
  }
  return path;
}

/// Up to a peak at 2 m/s^2, a gear change that loses 0.4 m/s, and on.
/// @param from_mps  at time 0
inline std::vector<double> geared(double peak_mps, double from_mps) {
  std::vector<double> v;
  for (double now = from_mps; now < peak_mps - 0.1; now += 0.2) {
    v.push_back(now);
  }
  v.push_back(peak_mps);
  for (int i = 1; i <= 4; ++i) {
    v.push_back(peak_mps - 0.1 * i);
  }
  for (int i = 1; i <= 15; ++i) {
    v.push_back(peak_mps - 0.4 + 0.2 * i);
  }
  return v;
}

}  // namespace made_up
