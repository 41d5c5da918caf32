// docs/method.md, eqs. (6.1), by the harmonic mean in whole_correction; (6.4) in foot_share; (6.5) in run_sd:
// w_b = weight, sd of e_b = sd_s, sd of e_n = split_sd.
#include "bothways/pair/two_way.hpp"

#include "bothways/core/duration.hpp"
#include "bothways/core/split_spec.hpp"
#include "bothways/core/units.hpp"
#include "bothways/pair/curve.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace bothways {

namespace {

constexpr double apart_note =
    0.03;  // rule of [EU2006] for two runs; its use here: common practice, no source
constexpr double longest_reach = 0.25;  // of the distance, that the mean curve may be drawn out

double mean(double a, double b) {
  return (a + b) / 2.0;
}

/// d(harmonic mean)/d(a)
double harmonic_weight(double a, double b) {
  return 2.0 * b * b / ((a + b) * (a + b));
}

/// Two-way time less the plain mean, s, and the sd of the two-way time.
struct Correction {
  double value = 0.0;
  double sd = 0.0;
};

/// Without curves: the harmonic mean of the two whole times.
Correction whole_correction(const Estimate& a, const Estimate& b) {
  const double sum = a.value + b.value;
  if (!(sum > 0.0)) {
    return {0.0, std::hypot(a.sd, b.sd) / 2.0};
  }
  const double difference = a.value - b.value;
  return {-difference * difference / (2.0 * sum),
          std::hypot(harmonic_weight(a.value, b.value) * a.sd, harmonic_weight(b.value, a.value) * b.sd)};
}

std::size_t index_of(const MeanCourse& curve, double v_mps) {
  const auto& v = curve.mean.v_mps;
  const auto nearest = std::min_element(
      v.begin() + 1, v.end(), [&](double x, double y) { return std::abs(x - v_mps) < std::abs(y - v_mps); });
  return static_cast<std::size_t>(nearest - v.begin());
}

/// How far the sd of a split grows since the bands weigh unequally: sum |w_b - w_b+1| sd_b.
double run_sd(const MeanCourse& curve, std::size_t run, std::size_t from, std::size_t to, double split_sd) {
  const auto& weight = curve.weight[run];
  double sd = weight[to - 1] * split_sd;
  if (from > 0) {
    sd += std::abs(weight[to - 1] - weight[from]) * curve.sd_s[run][from];
  }
  for (std::size_t edge = from + 1; edge < to; ++edge) {
    sd += std::abs(weight[edge] - weight[edge - 1]) * curve.sd_s[run][edge];
  }
  return sd;
}

bool is_reached(const MeanCourse& curve, double v_mps) {
  constexpr double same_speed_mps = 1e-6;
  return v_mps <= curve.mean.v_mps.back() + same_speed_mps && v_mps > curve.mean.v_mps.front();
}

Correction speed_correction(const MeanCourse& curve, const SplitSpec& spec, const Estimate& a,
                            const Estimate& b) {
  const double from_mps = std::get<Speed>(spec.from).mps();
  const double to_mps = std::get<Speed>(spec.to).mps();
  const bool from_rest = spec.from_rest();
  if (!is_reached(curve, to_mps) || !(from_rest || is_reached(curve, from_mps))) {
    return whole_correction(a, b);
  }
  const std::size_t from = from_rest ? 0 : index_of(curve, from_mps);
  const std::size_t to = index_of(curve, to_mps);
  if (to <= from) {
    return whole_correction(a, b);
  }
  // From rest each run's own clock starts at its own first foot, time 0.
  const double start = from_rest ? 0.0 : mean(curve.run[0].t_s[from], curve.run[1].t_s[from]);
  const double plain = mean(curve.run[0].t_s[to], curve.run[1].t_s[to]) - start;
  return {curve.mean.t_s[to] - curve.mean.t_s[from] - plain,
          std::hypot(run_sd(curve, 0, from, to, a.sd), run_sd(curve, 1, from, to, b.sd))};
}

Correction distance_correction(const MeanCourse& curve, const std::array<Course, 2>& courses,
                               const SplitSpec& spec, const Estimate& a, const Estimate& b) {
  const double from_m = std::get<Length>(spec.from).m();
  const double to_m = std::get<Length>(spec.to).m();
  Correction result = whole_correction(a, b);
  const double reach = to_m * (1.0 - longest_reach);
  const double start = spec.from_rest() ? rollout_m : from_m;
  if (reach > curve.mean.s_m.back() || start < rollout_m || !(to_m > start) ||
      std::any_of(courses.begin(), courses.end(), [&](const Course& c) { return reach > c.s_m.back(); })) {
    return result;
  }
  const auto took = [&](const Course& course) {
    return time_at(course, to_m) - (spec.from_rest() ? 0.0 : time_at(course, from_m));
  };
  // Bands of the mean curve, so that what they blur drops out; a run that goes on beyond them speaks for
  // itself.
  const auto of_run = [&](std::size_t r) {
    return took(to_m <= curve.run[r].s_m.back() ? curve.run[r] : courses[r]);
  };
  result.value = took(curve.mean) - mean(of_run(0), of_run(1));
  return result;
}

/// Two-way time of the first foot: it goes with 1/v after the foot, and v^2 averages to that of the flat.
double foot_share(const std::array<Course, 2>& courses) {
  if (courses[0].v_mps.empty() || courses[1].v_mps.empty()) {
    return 1.0;
  }
  const double a = courses[0].v_mps.front();
  const double b = courses[1].v_mps.front();
  return 1.0 / (std::sqrt(mean(a * a, b * b)) * mean(1.0 / a, 1.0 / b));
}

TwoWay made(const Split& a, const Split& b, const Correction& correction, double foot) {
  TwoWay split{.spec = a.spec};
  split.plain_mean_s = mean(a.rollout.value, b.rollout.value);
  split.rollout = as_duration(normal_estimate(split.plain_mean_s + correction.value, correction.sd));
  split.movement = split.rollout;
  if (a.spec.from_rest()) {
    const double foot_s = mean(a.movement.value - a.rollout.value, b.movement.value - b.rollout.value);
    split.movement = as_duration(
        normal_estimate(split.rollout.value + foot * foot_s, whole_correction(a.movement, b.movement).sd));
  }
  split.as_ridden = split.rollout;
  split.as_ridden_movement = split.movement;
  split.apart =
      split.plain_mean_s > 0.0 ? std::abs(a.rollout.value - b.rollout.value) / split.plain_mean_s : 0.0;
  return split;
}

std::vector<Note> notes_of(const std::vector<TwoWay>& splits) {
  const auto worst = std::max_element(splits.begin(), splits.end(),
                                      [](const TwoWay& x, const TwoWay& y) { return x.apart < y.apart; });
  if (worst == splits.end() || !(worst->apart > apart_note)) {
    return {};
  }
  // The sd of a difference of two is twice that of their mean.
  const bool is_noise = worst->apart * worst->plain_mean_s < 2.0 * 2.0 * worst->rollout.sd;
  return {{"partners-apart",
           fmt::format("out and back differ by {:.1f} % at {}, {}", 100.0 * worst->apart, worst->spec.name,
                       is_noise ? "which the receiver's noise alone could cause"
                                : "because of slope, wind or the starts themselves; the two-way figure takes "
                                  "slope and wind out"),
           0}};
}

}  // namespace

TwoWayResult two_way(const Run& one, const Run& other) {
  const auto curve = mean_course_of(one, other);
  const std::array<Course, 2> courses{course_of(one), course_of(other)};
  const double foot = foot_share(courses);
  TwoWayResult result;
  for (const Split& split : one.splits) {
    const Split* partner = find_split(other, split.spec.name);
    if (partner == nullptr) {
      continue;
    }
    const Estimate& a = split.rollout;
    const Estimate& b = partner->rollout;
    Correction correction = whole_correction(a, b);
    if (curve) {
      correction = std::holds_alternative<Speed>(split.spec.to)
                       ? speed_correction(*curve, split.spec, a, b)
                       : distance_correction(*curve, courses, split.spec, a, b);
    }
    result.splits.push_back(made(split, *partner, correction, foot));
  }
  result.notes = notes_of(result.splits);
  return result;
}

}  // namespace bothways
