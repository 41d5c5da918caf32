// docs/method.md, eq. (14.1) in power_of: r = rotating, c = rolling, A = drag_area_m2, w^2 = wind_square.
#include "bothways/pair/power.hpp"

#include "bothways/core/units.hpp"
#include "bothways/pair/curve.hpp"
#include "bothways/pair/days.hpp"
#include "bothways/pair/figures.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <stdexcept>

namespace bothways {

namespace {

constexpr double half_band_mps = 1.5;
constexpr double weighing_sd = 0.01;  // of the mass; common practice, no source

double middle(const Range& range) {
  return range.middle();
}

/// sd of an even spread.
double sd(const Range& range) {
  return (range.hi - range.lo) / std::sqrt(12.0);
}

struct Acceleration {
  double a_mps2 = 0.0;
  double sd_mps2 = 0.0;
};

/// sd of the speed of the smoothed run where it first reaches v.
double speed_sd_mps(const Curve& curve, double v_mps) {
  const auto at = std::find_if(curve.v_mps.begin(), curve.v_mps.end(), [&](double v) { return v >= v_mps; });
  if (at == curve.v_mps.end()) {
    return curve.sd_mps.empty() ? 0.0 : curve.sd_mps.back();
  }
  return curve.sd_mps[static_cast<std::size_t>(at - curve.v_mps.begin())];
}

/// Mean over the band: exact at its middle where power is constant.
std::optional<Acceleration> acceleration_of(const Run& run, double v_mps) {
  const Course course = course_of(run);
  const double lo = v_mps - half_band_mps;
  const double hi = v_mps + half_band_mps;
  if (course.v_mps.size() < 2 || lo < course.v_mps.front() || hi > course.v_mps.back()) {
    return std::nullopt;
  }
  const Monotone time(course.v_mps, course.t_s);
  const double duration_s = time(hi) - time(lo);
  if (!(duration_s > 0.0)) {
    return std::nullopt;
  }
  const double a = 2.0 * half_band_mps / duration_s;
  const double band_sd = std::hypot(speed_sd_mps(run.curve, lo), speed_sd_mps(run.curve, hi));
  return Acceleration{a, a * band_sd / (2.0 * half_band_mps)};
}

const Run* find_run(const Ride& ride, int id) {
  const auto& runs = ride.runs.accepted;
  const auto found = std::find_if(runs.begin(), runs.end(), [id](const Run& run) { return run.id == id; });
  return found == runs.end() ? nullptr : &*found;
}

std::optional<Acceleration> of_pair(const std::vector<Ride>& rides, const Pair& pair, double v_mps) {
  const Run* one = find_run(rides.at(pair.ride), pair.first_run);
  const Run* other = find_run(rides.at(pair.other_ride), pair.second_run);
  if (one == nullptr || other == nullptr) {
    return std::nullopt;
  }
  const auto a = acceleration_of(*one, v_mps);
  const auto b = acceleration_of(*other, v_mps);
  if (!a || !b) {
    return std::nullopt;
  }
  return Acceleration{(a->a_mps2 + b->a_mps2) / 2.0, std::hypot(a->sd_mps2, b->sd_mps2) / 2.0};
}

/// Half-widths of independent parts add in quadrature.
Estimate power_of(double v_mps, const Estimate& a, const RoadLoad& load) {
  const double mass = middle(load.mass_kg);
  const double inertia = 1.0 + middle(load.rotating);
  const double density = load.air_kg_m3.value;
  const double area = middle(load.drag_area_m2);
  const Range wind_square{load.wind_mps.lo * load.wind_mps.lo, load.wind_mps.hi * load.wind_mps.hi};
  const double square = v_mps * v_mps + middle(wind_square);
  const double weight_share = inertia * a.value + middle(load.rolling) * gravity_mps2;
  const double power = v_mps * (mass * weight_share + density * area * square / 2.0);
  const double by_a = v_mps * mass * inertia;
  const std::array load_sds{v_mps * weight_share * std::hypot(sd(load.mass_kg), weighing_sd * mass),
                            v_mps * mass * a.value * sd(load.rotating),
                            v_mps * mass * gravity_mps2 * sd(load.rolling),
                            v_mps * density * square / 2.0 * sd(load.drag_area_m2),
                            v_mps * area * square / 2.0 * load.air_kg_m3.sd,
                            v_mps * density * area / 2.0 * sd(wind_square)};
  double variance = 0.0;
  for (const double load_sd : load_sds) {
    variance += load_sd * load_sd;
  }
  constexpr double two_sided_95 = 1.959964;
  const double load_half = two_sided_95 * std::sqrt(variance);
  return {power, std::hypot(by_a * a.sd, std::sqrt(variance)),
          power - std::hypot(by_a * (a.value - a.lo95), load_half),
          power + std::hypot(by_a * (a.hi95 - a.value), load_half)};
}

}  // namespace

RoadPower road_power(const std::vector<Ride>& rides, const Pairs& pairs, const RoadLoad& load,
                     const std::vector<double>& speeds_mps) {
  if (!(load.mass_kg.lo > 0.0) || !(load.mass_kg.hi >= load.mass_kg.lo)) {
    throw std::invalid_argument("the mass must be above 0");
  }
  const std::vector<int> days = days_of_pairs(rides, pairs, day_pause_s);
  RoadPower result{load, {}};
  for (const double v_mps : speeds_mps) {
    SideResults side;
    for (std::size_t k = 0; k < pairs.made.size(); ++k) {
      if (const auto a = of_pair(rides, pairs.made[k], v_mps)) {
        side.outcomes.push_back({.value = a->a_mps2,
                                 .own_sd = a->sd_mps2,
                                 .day = days[k],
                                 .log = pairs.made[k].ride,
                                 .block = static_cast<int>(pairs.made[k].ride)});
        side.prior =
            scatter_prior(a->a_mps2, 0.0, false);  // an acceleration goes with the drive as a time does
      }
    }
    if (!side.outcomes.empty()) {
      const Estimate a = figure_of(side).estimate;
      result.rows.push_back({v_mps, static_cast<int>(side.outcomes.size()), a, power_of(v_mps, a, load)});
    }
  }
  return result;
}

}  // namespace bothways
