#pragma once

#include "bothways/core/units.hpp"
#include "bothways/run/ride.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>
#include <vector>

/// Runs with exact edges for the tests of the pair stage.
namespace made_up {

using namespace bothways;

/// The made-up 15 hp scooter: 80 % of it (8948 W) at the wheel, at most 650 N, 200 kg (210 kg with rotating
/// parts). Acceleration at a speed, up a slope (rise over run) against a wind.
inline double scooter_mps2(double v_mps, double grade = 0.0, double wind_mps = 0.0, double power = 1.0) {
  const double drive_n = power * std::min(650.0, 0.8 * 15.0 * 745.69987158 / std::max(v_mps, 1e-9));
  const double angle = std::atan(grade);
  const double air_mps = v_mps + wind_mps;
  const double resistance_n = 0.015 * 200.0 * gravity_mps2 * std::cos(angle) +
                              200.0 * gravity_mps2 * std::sin(angle) +
                              0.5 * 1.2 * 0.55 * air_mps * std::abs(air_mps);
  return (drive_n - resistance_n) / 210.0;
}

/// State of a start: travel and speed.
struct State {
  double s_m = 0.0;
  double v_mps = 0.0;
};

/// A run from rest under acceleration(s, v), by fourth-order Runge-Kutta steps of 1 ms; edges at one foot, at
/// whole m/s and at the marks. Splits are taken from the same integration.
class Start {
 public:
  using Acceleration = std::function<double(double s_m, double v_mps)>;

  Start(const Acceleration& acceleration, double top_mps) {
    constexpr double h = 1e-3;
    State x;
    t_s.push_back(0.0);
    path.push_back(x);
    while (x.v_mps < top_mps && t_s.back() < 60.0) {
      const auto f = [&](State y) { return State{y.v_mps, acceleration(y.s_m, y.v_mps)}; };
      const auto add = [](State y, State d, double k) {
        return State{y.s_m + k * d.s_m, y.v_mps + k * d.v_mps};
      };
      const State k1 = f(x);
      const State k2 = f(add(x, k1, h / 2));
      const State k3 = f(add(x, k2, h / 2));
      const State k4 = f(add(x, k3, h));
      x = add(add(add(add(x, k1, h / 6), k2, h / 3), k3, h / 3), k4, h / 6);
      t_s.push_back(t_s.back() + h);
      path.push_back(x);
    }
  }

  /// Time of a speed or travel, by linear interpolation over 1 ms (error below 1e-6 s).
  [[nodiscard]] double time_of(double State::*what, double level) const {
    const auto above = std::lower_bound(path.begin() + 1, path.end() - 1, level,
                                        [&](const State& x, double y) { return x.*what < y; });
    const auto i = static_cast<std::size_t>(above - path.begin());
    const double share = (level - path[i - 1].*what) / (path[i].*what - path[i - 1].*what);
    return t_s[i - 1] + share * (t_s[i] - t_s[i - 1]);
  }
  [[nodiscard]] double at(double State::*what, double time) const {
    const auto i = std::min(static_cast<std::size_t>(time / 1e-3), path.size() - 2);
    const double share = (time - t_s[i]) / 1e-3;
    return path[i].*what + share * (path[i + 1].*what - path[i].*what);
  }

  std::vector<double> t_s;
  std::vector<State> path;
};

inline Split split_of(const std::string& name, double rollout_s, double foot_s, double sd_s) {
  Split split{.spec = parse_splits(name).front()};
  split.rollout = normal_estimate(rollout_s, sd_s);
  split.movement = split.spec.from_rest() ? normal_estimate(rollout_s + foot_s, sd_s) : split.rollout;
  return split;
}

/// The run that the library would make of a start measured without error, but with sd_s stated.
/// @param step_mps  of the edges, from `first_mps` on
inline Run run_of(const Start& start, const std::string& splits, double sd_s = 0.0, double first_mps = 2.0,
                  double step_mps = 1.0) {
  const double foot_s = start.time_of(&State::s_m, rollout_m);
  std::vector<double> speeds{start.at(&State::v_mps, foot_s)};
  const double top_mps = start.path.back().v_mps;
  for (double v = first_mps; v < top_mps; v += step_mps) {
    speeds.push_back(v);
  }
  Run run;
  for (const SplitSpec& spec : parse_splits(splits)) {
    const auto time = [&](const Mark& mark) {
      if (const auto* speed = std::get_if<Speed>(&mark)) {
        speeds.push_back(speed->mps());
        return start.time_of(&State::v_mps, speed->mps());
      }
      return start.time_of(&State::s_m, std::get<Length>(mark).m());
    };
    const double from_s = spec.from_rest() ? foot_s : time(spec.from);
    run.splits.push_back(split_of(spec.name, time(spec.to) - from_s, foot_s, sd_s));
  }
  std::sort(speeds.begin(), speeds.end());
  for (const double v : speeds) {
    if (v < speeds.front() + 1e-9 && !run.edges.empty()) {
      continue;
    }
    if (v >= start.at(&State::v_mps, foot_s) - 1e-12 &&
        (run.edges.empty() || v > run.edges.back().v_mps + 1e-6)) {
      const double t = run.edges.empty() ? foot_s : start.time_of(&State::v_mps, v);
      run.edges.push_back({v, t - foot_s, sd_s, start.at(&State::s_m, t)});
    }
  }
  run.length_m = start.path.back().s_m;
  run.top_speed_mps = top_mps;
  return run;
}

/// Puts a run on an east-west road: standing at `east_m`, riding east (heading 90) or west (270).
inline Run placed(Run run, int id, double time_s, double east_m, bool east, double north_m = 0.0,
                  double turned_deg = 0.0) {
  const LocalPlane plane({52.0, 11.0});
  const double angle = (turned_deg + (east ? 90.0 : 270.0)) * 3.14159265358979323846 / 180.0;
  run.id = id;
  run.heading_deg = std::fmod(turned_deg + (east ? 90.0 : 270.0) + 360.0, 360.0);
  run.start = plane.from_plane({east_m, north_m});
  run.end =
      plane.from_plane({east_m + run.length_m * std::sin(angle), north_m + run.length_m * std::cos(angle)});
  run.clock_start = {1'777'888'000'000'000 + std::llround(1e6 * time_s)};
  run.movement = shifted(run.clock_start, -0.5);
  return run;
}

inline Ride ride_of(std::vector<Run> runs, const std::string& path = "ride.nmea") {
  Ride ride{.path = path};
  ride.runs.accepted = std::move(runs);
  return ride;
}

}  // namespace made_up
