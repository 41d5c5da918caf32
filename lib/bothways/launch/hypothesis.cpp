#include "bothways/launch/hypothesis.hpp"

#include "bothways/core/units.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace bothways {

namespace {

constexpr double usual_launch_s = 0.5;  // full throttle seldom takes longer: half as often for twice as long
constexpr double shape_jerk_factor = 2.0;  // no launch is quite like its shape
constexpr double foot_step_s = 0.01;
constexpr double longest_foot_s = 10.0;

LaunchShape at_once(double full_mps2) {
  LaunchShape shape;
  shape.a_mps2 = {full_mps2};
  shape.sd_mps2 = 0.3 * full_mps2;
  return shape;
}

/// Full acceleration after a creeping clutch of `creep_s` at a share of it.
LaunchShape creeping(double full_mps2, double creep_s, double share) {
  LaunchShape shape;
  shape.a_mps2.clear();
  const auto points = static_cast<std::size_t>(std::lround(creep_s / shape.step_s));
  for (std::size_t i = 0; i <= points; ++i) {
    shape.a_mps2.push_back(share * full_mps2);
  }
  shape.a_mps2.push_back(full_mps2);
  shape.sd_mps2 = 0.15 * full_mps2;
  return shape;
}

/// Acceleration that rises evenly to its full value within `rise_s`.
LaunchShape rising(double full_mps2, double rise_s) {
  LaunchShape shape;
  shape.a_mps2.clear();
  const auto points = static_cast<std::size_t>(std::lround(rise_s / shape.step_s));
  for (std::size_t i = 0; i <= points; ++i) {
    shape.a_mps2.push_back(full_mps2 * static_cast<double>(i) / static_cast<double>(points));
  }
  shape.sd_mps2 = 0.15 * full_mps2;
  return shape;
}

/// Wheels that spin: a push, then a sag of `sag_s` until they grip.
LaunchShape slipping(double full_mps2, double sag_s) {
  LaunchShape shape;
  shape.a_mps2.clear();
  const auto push = static_cast<std::size_t>(std::lround(0.25 / shape.step_s));
  const auto points = push + static_cast<std::size_t>(std::lround(sag_s / shape.step_s));
  for (std::size_t i = 0; i <= points; ++i) {
    shape.a_mps2.push_back((i <= push ? 1.15 : 0.75) * full_mps2);
  }
  shape.a_mps2.push_back(full_mps2);
  shape.sd_mps2 = 0.15 * full_mps2;
  return shape;
}

std::vector<LaunchShape> full_shapes(double full_mps2) {
  std::vector<LaunchShape> all{at_once(full_mps2)};
  for (const double share : {0.1, 0.3}) {
    for (const double creep_s : {0.15, 0.3, 0.45, 0.8}) {
      all.push_back(creeping(full_mps2, creep_s, share));
    }
  }
  all.push_back(creeping(full_mps2, 1.6, 0.05));
  for (const double rise_s : {0.2, 0.5, 1.0}) {
    all.push_back(rising(full_mps2, rise_s));
  }
  for (const double sag_s : {0.3, 0.6}) {
    all.push_back(slipping(full_mps2, sag_s));
  }
  for (LaunchShape& shape : all) {
    const double longer = std::max(1.0, shape.length_s() / usual_launch_s);
    shape.prior = 1.0 / (longer * longer);
  }
  return all;
}

std::vector<LaunchShape> gentle_shapes(double full_mps2) {
  std::vector<LaunchShape> all;
  for (const double share : {0.1, 0.25}) {
    for (const double creep_s : {1.0, 1.6, 2.4, 3.6}) {
      all.push_back(creeping(full_mps2, creep_s, share));
    }
  }
  all.push_back(creeping(full_mps2, 3.6, 0.04));  // hardly to be seen
  all.push_back(at_once(full_mps2));
  for (const double share : {0.1, 0.25}) {
    all.push_back(creeping(full_mps2, 0.5, share));
  }
  for (const double rise_s : {0.5, 1.0}) {
    all.push_back(rising(full_mps2, rise_s));
  }
  return all;
}

/// From first movement to the first foot, as a shape expects it, s.
double foot_time_s(const LaunchShape& shape) {
  double t_s = 0.0;
  double v_mps = 0.0;
  double s_m = 0.0;
  while (s_m < rollout_m && t_s < longest_foot_s) {
    const double a = shape.at(t_s + 0.5 * foot_step_s);
    s_m += (v_mps + 0.5 * a * foot_step_s) * foot_step_s;
    v_mps += a * foot_step_s;
    t_s += foot_step_s;
  }
  return t_s;
}

/// Without a shape at three roughnesses, and with each of some shapes; for each candidate
/// of smoothing.
std::vector<LaunchHypothesis> hypotheses(const std::vector<Smoothing>& smoothing, double full_mps2,
                                         const std::vector<LaunchShape>& shapes) {
  std::vector<LaunchHypothesis> all;
  for (const Smoothing& candidate : smoothing) {
    for (const double factor : {1.0, 6.0, 36.0}) {
      all.push_back({LaunchShape{}, candidate.filter, factor, candidate.weight,
                     std::sqrt(2.0 * rollout_m / full_mps2)});
    }
    for (const LaunchShape& shape : shapes) {
      all.push_back(
          {shape, candidate.filter, shape_jerk_factor, candidate.weight * shape.prior, foot_time_s(shape)});
    }
  }
  return all;
}

}  // namespace

double LaunchShape::at(double tau_s) const {
  const double place = tau_s / step_s;
  if (place <= 0.0) {
    return a_mps2.front();
  }
  const auto below = static_cast<std::size_t>(place);
  if (below + 1 >= a_mps2.size()) {
    return a_mps2.back();
  }
  return a_mps2[below] + (place - static_cast<double>(below)) * (a_mps2[below + 1] - a_mps2[below]);
}

std::vector<LaunchHypothesis> full_throttle_hypotheses(const std::vector<Smoothing>& smoothing,
                                                       double full_mps2) {
  return hypotheses(smoothing, full_mps2, full_shapes(full_mps2));
}

std::vector<LaunchHypothesis> first_look_hypotheses(const std::vector<Smoothing>& smoothing,
                                                    double full_mps2) {
  return hypotheses(smoothing, full_mps2,
                    {at_once(full_mps2), creeping(full_mps2, 0.45, 0.1), rising(full_mps2, 0.5)});
}

std::vector<LaunchHypothesis> gentle_hypotheses(const std::vector<Smoothing>& smoothing, double full_mps2) {
  return hypotheses(smoothing, full_mps2, gentle_shapes(full_mps2));
}

}  // namespace bothways
