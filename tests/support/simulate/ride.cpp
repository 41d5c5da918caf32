#include "support/simulate/ride.hpp"

#include "bothways/core/units.hpp"
#include "support/simulate/random.hpp"
#include "support/simulate/runge_kutta.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <stdexcept>

namespace bothways::sim {

namespace {

constexpr double rad_per_deg = std::numbers::pi / 180.0;
constexpr double fine_s = 0.001;
constexpr double middle_s = 0.004;
constexpr double coarse_s = 0.01;
constexpr double hand_s = 0.15;  // how long a rider takes from one thing to the next
constexpr double longest_phase_s = 600.0;

Vehicle scattered(const Vehicle& vehicle, const Scatter& scatter, Random& random) {
  Vehicle v = vehicle;
  const double force = 1.0 + scatter.force * random.normal();
  const double launch = std::max(0.3, 1.0 + scatter.launch * random.normal());
  v.pull_N *= force;
  v.power_W *= force;
  for (auto& point : v.launch) {
    point.t_s *= launch;
  }
  for (auto& change : v.gear_changes) {
    change.gap_s *= std::max(0.3, 1.0 + scatter.gap * random.normal());
  }
  return v;
}

/// Share of the brake at a speed, if it is eased below ease_mps.
double eased(double ease_mps, double v_mps) {
  return ease_mps > 0.0 && v_mps < ease_mps ? 0.25 + 0.75 * std::max(0.0, v_mps) / ease_mps : 1.0;
}

class Rider {
 public:
  Rider(const Vehicle& vehicle, const Road& road, std::uint64_t seed, const Scatter& scatter)
      : vehicle_(vehicle), road_(road), scatter_(scatter), random_(seed), wind_(road, seed ^ 0x57494e44U) {
    truth_.road = road;
    record(0.0);
  }

  void ride(const Phase& phase) {
    switch (phase.act) {
      case Phase::Act::stand:
        stand(phase.duration_s);
        break;
      case Phase::Act::start:
        start(phase);
        break;
      case Phase::Act::travel:
        travel(phase);
        break;
      case Phase::Act::coast:
        coast(phase);
        break;
      case Phase::Act::turn:
        turn(phase);
        break;
    }
  }

  Truth finish() {
    if (now_.v_mps > 0.0) {
      travel(slow_to(0.0));
    }
    stand(3.0);
    return std::move(truth_);
  }

 private:
  void record(double a_mps2) {
    now_.a_mps2 = a_mps2;
    truth_.rows.push_back(now_);
  }

  void stand(double duration_s) {
    if (now_.v_mps > 0.0) {
      throw std::invalid_argument("the script stands while moving");
    }
    if (truth_.rows.back().a_mps2 != 0.0) {
      record(0.0);
    }
    now_.t_s += duration_s;
    record(0.0);
    stand_s_m_ = now_.s_m;
  }

  [[nodiscard]] double resistance(double v_mps, double s_m, double t_s) const {
    const double along = std::cos(now_.course_rad);
    const double x_m = now_.x_m + (s_m - now_.s_m) * along;
    return resistance_N(vehicle_, v_mps, slope_at(road_, x_m) * along, wind_.at(t_s) * along,
                        road_.cross_wind_mps);
  }

  /// One step of v' = a(t, v, s), s' = v. The course is constant unless curvature is given.
  template <class Acceleration>
  void step(double h, const Acceleration& a, double curvature_per_m = 0.0) {
    const Change by = runge_kutta_4(now_.t_s, now_.v_mps, now_.s_m, h, a);
    const double turned = curvature_per_m * by.s_m;
    const double course = now_.course_rad + 0.5 * turned;
    now_.x_m += by.s_m * std::cos(course);
    now_.y_m += by.s_m * std::sin(course);
    now_.course_rad += turned;
    now_.t_s += h;
    now_.v_mps = std::max(0.0, now_.v_mps + by.v_mps);
    now_.s_m += by.s_m;
    record(a(now_.t_s, now_.v_mps, now_.s_m));
  }

  void start(const Phase& phase) {
    const Vehicle usual = vehicle_;
    vehicle_ = scattered(usual, scatter_, random_);
    const double open_t_s = now_.t_s;
    double change_t_s = -1.0;
    double gap_s = 0.0;
    const auto drive = [&](double t, double v) {
      const double since = t - open_t_s;
      double share = phase.throttle * launch_share(vehicle_, since);
      if (phase.open_s > 0.0) {
        share *= std::clamp(since / phase.open_s, 0.0, 1.0);
      }
      if (change_t_s >= 0.0 && t < change_t_s + gap_s) {
        const double in = t - change_t_s;
        share *= std::clamp(std::max(1.0 - in / 0.03, 1.0 - (gap_s - in) / 0.06), 0.0, 1.0);
      }
      return share * full_force_N(vehicle_, v);
    };
    const auto a = [&](double t, double v, double s) {
      return (drive(t, v) - resistance(v, s, t)) / vehicle_.effective_mass_kg;
    };
    if (now_.v_mps == 0.0) {
      wait_for_movement([&](double t) { return a(t, 0.0, now_.s_m); });
    }
    TrueStart mark{
        .kind = phase.kind, .movement_s = now_.t_s, .heading_deg = course_deg(road_, now_), .s_m = now_.s_m};
    record(a(now_.t_s, now_.v_mps, now_.s_m));  // the acceleration may jump here: a second row of this time
    mark.first_row = truth_.rows.size() - 1;
    std::size_t next = 0;
    while (next < vehicle_.gear_changes.size() && vehicle_.gear_changes[next].at_mps <= now_.v_mps) {
      ++next;
    }
    while (now_.v_mps < phase.until_mps) {
      const bool changing = change_t_s >= 0.0 && now_.t_s < change_t_s + gap_s + fine_s;
      if (!changing && next < vehicle_.gear_changes.size() &&
          now_.v_mps >= vehicle_.gear_changes[next].at_mps) {
        change_t_s = now_.t_s;
        gap_s = vehicle_.gear_changes[next].gap_s;
        ++next;
      }
      const bool fine = now_.t_s - open_t_s < 1.5 || changing || change_t_s == now_.t_s;
      step(fine ? fine_s : middle_s, a);
      if (now_.t_s - open_t_s > 120.0) {
        throw std::invalid_argument("the vehicle does not reach the speed that the script asks");
      }
    }
    mark.lift_s = now_.t_s;
    mark.top_mps = now_.v_mps;
    mark.last_row = truth_.rows.size() - 1;
    mark.foot_s = crossing_s(truth_, mark, Length::from_m(rollout_m)).value_or(mark.movement_s);
    truth_.starts.push_back(mark);
    vehicle_ = usual;
  }

  /// Stands until the drive exceeds the resistance; finds that instant to a microsecond.
  template <class Acceleration>
  void wait_for_movement(const Acceleration& a) {
    double lo = now_.t_s;
    double hi = lo;
    while (!(a(hi) > 0.0)) {
      lo = hi;
      hi += fine_s;
      if (hi - now_.t_s > 30.0) {
        throw std::invalid_argument("the vehicle cannot move off");
      }
    }
    while (hi - lo > 1e-7) {
      const double mid = 0.5 * (lo + hi);
      (a(mid) > 0.0 ? hi : lo) = mid;
    }
    if (hi > now_.t_s) {
      now_.t_s = hi;
      record(0.0);
    }
  }

  void travel(const Phase& phase) {
    if (now_.v_mps == 0.0 && phase.distance_m > 0.0) {
      throw std::invalid_argument("the script travels without a start");
    }
    const double begin_t_s = now_.t_s;
    const double begin_a = truth_.rows.back().a_mps2;
    const double end_s_m = (phase.from_stand ? stand_s_m_ : now_.s_m) + phase.distance_m;
    const bool at_once = phase.distance_m == 0.0;
    const auto wanted = [&](double t, double v, double s) {
      const double left_m = end_s_m - s;
      const double brake_curve =
          left_m > 0.0 ? std::sqrt(phase.end_mps * phase.end_mps + 2.0 * phase.brake_mps2 * left_m)
                       : phase.end_mps;
      double a = -phase.brake_mps2 * eased(phase.ease_mps, v);
      if (!at_once && left_m > 0.05) {
        a = std::clamp(1.5 * (phase.until_mps - v), -0.8 * phase.brake_mps2, 1.2);
        if (phase.until_mps > phase.end_mps && v > brake_curve - 0.5) {
          a = std::min(a, -phase.brake_mps2 + std::clamp(3.0 * (brake_curve - v), -2.0, 0.0) +
                              2.0 * phase.brake_mps2 * std::max(0.0, brake_curve - v));
        }
      }
      const double hand = std::clamp((t - begin_t_s) / hand_s, 0.0, 1.0);
      return begin_a * (1.0 - hand) + a * hand;
    };
    while (now_.v_mps > phase.end_mps || (!at_once && now_.s_m < end_s_m - 0.05 && now_.v_mps > 0.0)) {
      const double a = wanted(now_.t_s, now_.v_mps, now_.s_m);
      double h = coarse_s;
      const double end_v = at_once || end_s_m - now_.s_m < 0.5 ? phase.end_mps : 0.0;
      if (a < 0.0 && now_.v_mps + a * h <= end_v) {
        h = std::max(1e-6, (now_.v_mps - end_v) / -a);
      }
      step(h, wanted);
      if (now_.v_mps < 1e-4 && phase.end_mps == 0.0) {
        now_.v_mps = 0.0;
        record(0.0);
      }
      if (now_.t_s - begin_t_s > longest_phase_s) {
        throw std::invalid_argument("a part of the script does not end");
      }
    }
  }

  void coast(const Phase& phase) {
    const double begin_t_s = now_.t_s;
    const auto a = [&](double t, double v, double s) {
      return -resistance(v, s, t) / vehicle_.effective_mass_kg;
    };
    record(a(now_.t_s, now_.v_mps, now_.s_m));
    while (now_.v_mps > phase.end_mps && now_.v_mps > 0.0 && now_.t_s - begin_t_s < longest_phase_s) {
      step(coarse_s, a);
    }
  }

  void turn(const Phase& phase) {
    const double begin_t_s = now_.t_s;
    const double begin_a = truth_.rows.back().a_mps2;
    const double from_rad = now_.course_rad;
    const double to_rad = from_rad - phase.angle_deg * rad_per_deg;
    const double end_s_m = now_.s_m + std::abs(phase.angle_deg) * rad_per_deg * phase.radius_m;
    const double curvature = (phase.angle_deg > 0.0 ? -1.0 : 1.0) / phase.radius_m;
    const auto wanted = [&](double t, double v, double /*s*/) {
      const double a = std::clamp(1.5 * (phase.until_mps - v), -2.0, 1.2);
      const double hand = std::clamp((t - begin_t_s) / hand_s, 0.0, 1.0);
      return begin_a * (1.0 - hand) + a * hand;
    };
    while (now_.s_m < end_s_m - 1e-6 && now_.t_s - begin_t_s < longest_phase_s) {
      const double left_s = (end_s_m - now_.s_m) / std::max(0.5, now_.v_mps);
      step(std::clamp(left_s, 1e-5, coarse_s), wanted, curvature);
    }
    now_.course_rad = to_rad;
    record(now_.a_mps2);
  }

  Vehicle vehicle_;
  Road road_;
  Scatter scatter_;
  Random random_;
  Wind wind_;
  Truth truth_;
  TruthRow now_;
  double stand_s_m_ = 0.0;
};

}  // namespace

Truth ride(const Vehicle& vehicle, const Road& road, const Script& script, std::uint64_t seed,
           const Scatter& scatter) {
  Rider rider(vehicle, road, seed, scatter);
  for (const Phase& phase : script) {
    rider.ride(phase);
  }
  return rider.finish();
}

double run_length_m(const Vehicle& vehicle, double top_mps) {
  const Truth truth = ride(vehicle, {}, {full_start(top_mps)});
  return truth.rows[truth.starts.at(0).last_row].s_m;
}

}  // namespace bothways::sim
