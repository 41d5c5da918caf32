#include "support/simulate/truth.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <variant>

namespace bothways::sim {

namespace {

constexpr double deg_per_rad = 180.0 / std::numbers::pi;

/// Cubic through two values and slopes, at part u of a step h.
double hermite(double p0, double m0, double p1, double m1, double h, double u) {
  const double w = 1.0 - u;
  return w * w * (1.0 + 2.0 * u) * p0 + u * w * w * h * m0 + u * u * (3.0 - 2.0 * u) * p1 -
         u * u * w * h * m1;
}

TruthRow between(const TruthRow& a, const TruthRow& b, double t_s) {
  const double h = b.t_s - a.t_s;
  if (!(h > 0.0)) {
    return a;
  }
  const double u = std::clamp((t_s - a.t_s) / h, 0.0, 1.0);
  TruthRow row = a;
  row.t_s = t_s;
  row.v_mps = std::max(0.0, hermite(a.v_mps, a.a_mps2, b.v_mps, b.a_mps2, h, u));
  row.a_mps2 = a.a_mps2 + (b.a_mps2 - a.a_mps2) * u;
  row.s_m = hermite(a.s_m, a.v_mps, b.s_m, b.v_mps, h, u);
  const double part = b.s_m > a.s_m ? (row.s_m - a.s_m) / (b.s_m - a.s_m) : 0.0;
  row.x_m = a.x_m + (b.x_m - a.x_m) * part;
  row.y_m = a.y_m + (b.y_m - a.y_m) * part;
  row.course_rad = a.course_rad + (b.course_rad - a.course_rad) * part;
  return row;
}

}  // namespace

TruthRow TruthReader::at(double t_s) {
  const auto& rows = truth_->rows;
  if (t_s < rows[row_].t_s) {
    const auto after = std::upper_bound(rows.begin(), rows.end(), t_s,
                                        [](double t, const TruthRow& row) { return t < row.t_s; });
    row_ = after == rows.begin() ? 0 : static_cast<std::size_t>(after - rows.begin()) - 1;
  }
  while (row_ + 2 < rows.size() && rows[row_ + 1].t_s <= t_s) {
    ++row_;
  }
  return between(rows[row_], rows[row_ + 1], t_s);
}

std::optional<double> crossing_s(const Truth& truth, const TrueStart& start, const Mark& mark) {
  const auto reached = [&](const TruthRow& row) {
    if (const auto* speed = std::get_if<Speed>(&mark)) {
      return row.v_mps - speed->mps();
    }
    return row.s_m - start.s_m - std::get<Length>(mark).m();
  };
  const auto& rows = truth.rows;
  for (std::size_t i = start.first_row; i < start.last_row; ++i) {
    if (reached(rows[i]) < 0.0 && reached(rows[i + 1]) >= 0.0) {
      double lo = rows[i].t_s;
      double hi = rows[i + 1].t_s;
      for (int k = 0; k < 40; ++k) {
        const double mid = 0.5 * (lo + hi);
        (reached(between(rows[i], rows[i + 1], mid)) < 0.0 ? lo : hi) = mid;
      }
      return 0.5 * (lo + hi);
    }
  }
  return std::nullopt;
}

std::optional<double> true_split_s(const Truth& truth, const TrueStart& start, const SplitSpec& spec,
                                   Clock clock) {
  const auto end = crossing_s(truth, start, spec.to);
  const auto begin = spec.from_rest()
                         ? std::optional(clock == Clock::rollout ? start.foot_s : start.movement_s)
                         : crossing_s(truth, start, spec.from);
  if (!begin || !end || (spec.from_rest() && !start.standing())) {
    return std::nullopt;
  }
  return *end - *begin;
}

LatLon place_of(const LocalPlane& plane, const Road& road, const TruthRow& row) {
  const double heading_rad = road.heading_deg / deg_per_rad;
  const double sine = std::sin(heading_rad);
  const double cosine = std::cos(heading_rad);
  return plane.from_plane({row.x_m * sine - row.y_m * cosine, row.x_m * cosine + row.y_m * sine});
}

double course_deg(const Road& road, const TruthRow& row) {
  const double course = std::fmod(road.heading_deg - row.course_rad * deg_per_rad, 360.0);
  return course < 0.0 ? course + 360.0 : course;
}

}  // namespace bothways::sim
