// docs/method.md, eqs. (6.2) as the sum (6.3): d_b, d'_b = da, db, T = mean.t_s; (6.4): v_f = foot, the first
// speed.
#include "bothways/pair/curve.hpp"

#include "bothways/core/split_spec.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

namespace bothways {

namespace {

/// A band is at least so many sd of its edges' times long. The harmonic mean of noisy durations is too short
/// by about (sd/duration)^2: below 0.06 % here. Narrower would be noise, wider would keep some of the slope.
constexpr double band_in_sd = 40.0;
constexpr double same_speed_mps = 1e-9;

double harmonic(double a, double b) {
  return 2.0 * a * b / (a + b);
}

/// One run as smooth functions of speed.
class Smooth {
 public:
  Smooth(const Run& run, const Course& course)
      : time_(course.v_mps, course.t_s), travel_(squared(course.v_mps), course.s_m), edges_(&run.edges) {}

  [[nodiscard]] double time(double v_mps) const { return time_(v_mps); }
  /// Travel goes with the square of the speed where acceleration is constant.
  [[nodiscard]] double travel(double v_mps) const { return travel_(v_mps * v_mps); }
  [[nodiscard]] double sd(double v_mps) const {
    const auto above = std::find_if(edges_->begin(), edges_->end(),
                                    [&](const SpeedEdge& edge) { return edge.v_mps >= v_mps; });
    if (above == edges_->begin() || above == edges_->end()) {
      return above == edges_->end() ? edges_->back().sd_s : above->sd_s;
    }
    const SpeedEdge& below = *std::prev(above);
    const double share = (v_mps - below.v_mps) / std::max(above->v_mps - below.v_mps, same_speed_mps);
    return below.sd_s + share * (above->sd_s - below.sd_s);
  }

 private:
  static std::vector<double> squared(std::vector<double> v) {
    std::transform(v.begin(), v.end(), v.begin(), [](double x) { return x * x; });
    return v;
  }
  Monotone time_;
  Monotone travel_;
  const std::vector<SpeedEdge>* edges_;
};

/// Speeds at which bands may end, rising; first the speed after one foot on the flat.
struct Grid {
  std::vector<double> v_mps;
  std::vector<double> marks_mps;
  [[nodiscard]] bool is_mark(double v) const {
    return std::any_of(marks_mps.begin(), marks_mps.end(),
                       [&](double mark) { return std::abs(mark - v) <= same_speed_mps; });
  }
};

Grid grid_of(const Course& a, const Course& b, std::vector<double> marks_mps) {
  const double foot = std::sqrt((a.v_mps[0] * a.v_mps[0] + b.v_mps[0] * b.v_mps[0]) / 2.0);
  const double lo = std::max(a.v_mps.front(), b.v_mps.front());
  const double hi = std::min(a.v_mps.back(), b.v_mps.back());
  std::vector<double> all = marks_mps;
  all.insert(all.end(), a.v_mps.begin(), a.v_mps.end());
  all.insert(all.end(), b.v_mps.begin(), b.v_mps.end());
  std::sort(all.begin(), all.end());
  Grid grid{{foot}, std::move(marks_mps)};
  grid.marks_mps.push_back(hi);
  for (const double v : all) {
    const double last = grid.v_mps.back();
    if (v > last + same_speed_mps && v >= lo && v <= hi + same_speed_mps) {
      grid.v_mps.push_back(v);
    }
  }
  return grid;
}

bool is_wide(const std::array<Smooth, 2>& runs, double from, double to) {
  return std::all_of(runs.begin(), runs.end(), [&](const Smooth& run) {
    return run.time(to) - run.time(from) >= band_in_sd * std::max(run.sd(from), run.sd(to));
  });
}

/// Drops edges until every band is as long as the noise asks; marks stay.
std::vector<double> merged(const Grid& grid, const std::array<Smooth, 2>& runs) {
  std::vector<double> kept{grid.v_mps.front()};
  for (std::size_t i = 1; i < grid.v_mps.size(); ++i) {
    const double v = grid.v_mps[i];
    if (!grid.is_mark(v)) {
      if (is_wide(runs, kept.back(), v)) {
        kept.push_back(v);
      }
      continue;
    }
    while (kept.size() > 1 && !grid.is_mark(kept.back()) && !is_wide(runs, kept.back(), v)) {
      kept.pop_back();
    }
    kept.push_back(v);
  }
  return kept;
}

}  // namespace

Course course_of(const Run& run) {
  Course course;
  for (const SpeedEdge& edge : run.edges) {
    const bool first = course.v_mps.empty();
    if (!std::isfinite(edge.v_mps + edge.t_s + edge.s_m + edge.sd_s) || (first && !(edge.v_mps > 0.0))) {
      continue;
    }
    if (first || (edge.v_mps > course.v_mps.back() + same_speed_mps && edge.t_s > course.t_s.back() &&
                  edge.s_m > course.s_m.back())) {
      course.v_mps.push_back(edge.v_mps);
      course.t_s.push_back(edge.t_s);
      course.s_m.push_back(edge.s_m);
    }
  }
  return course;
}

double time_at(const Course& course, double distance_m) {
  const auto& s = course.s_m;
  const auto above = std::upper_bound(s.begin() + 1, s.end() - 1, distance_m);
  const auto k = static_cast<std::size_t>(above - s.begin());
  const double duration = course.t_s[k] - course.t_s[k - 1];
  const double travel = s[k] - s[k - 1];
  // The acceleration that covers the band's travel in its duration, starting from its lower speed.
  const double v = std::min(course.v_mps[k - 1], 2.0 * travel / duration);
  const double a = 2.0 * (travel / duration - v) / duration;
  const double rest = distance_m - s[k - 1];
  return course.t_s[k - 1] + 2.0 * rest / (v + std::sqrt(std::max(0.0, v * v + 2.0 * a * rest)));
}

std::optional<MeanCourse> mean_course(const Run& one, const Run& other, std::vector<double> marks_mps) {
  const std::array<Course, 2> courses{course_of(one), course_of(other)};
  for (const Course& course : courses) {
    if (course.v_mps.size() < 2) {
      return std::nullopt;
    }
  }
  const Grid grid = grid_of(courses[0], courses[1], std::move(marks_mps));
  if (grid.v_mps.size() < 2) {
    return std::nullopt;
  }
  const std::array<Smooth, 2> runs{Smooth(one, courses[0]), Smooth(other, courses[1])};
  MeanCourse result;
  result.mean.v_mps = merged(grid, runs);
  for (std::size_t r = 0; r < 2; ++r) {
    result.run[r].v_mps = result.mean.v_mps;
    for (const double v : result.mean.v_mps) {
      result.run[r].t_s.push_back(runs[r].time(v));
      result.run[r].s_m.push_back(runs[r].travel(v));
      result.sd_s[r].push_back(runs[r].sd(v));
    }
  }
  // By contract both courses start at their first foot: time 0, travel 0.3048 m.
  result.mean.t_s.push_back((courses[0].t_s[0] + courses[1].t_s[0]) / 2.0);
  result.mean.s_m.push_back((courses[0].s_m[0] + courses[1].s_m[0]) / 2.0);
  const auto& [a, b] = result.run;
  for (std::size_t k = 1; k < result.mean.v_mps.size(); ++k) {
    const double da = a.t_s[k] - a.t_s[k - 1];
    const double db = b.t_s[k] - b.t_s[k - 1];
    const double sum = (da + db) * (da + db);
    result.weight[0].push_back(2.0 * db * db / sum);
    result.weight[1].push_back(2.0 * da * da / sum);
    result.mean.t_s.push_back(result.mean.t_s.back() + harmonic(da, db));
    result.mean.s_m.push_back(result.mean.s_m.back() +
                              harmonic(a.s_m[k] - a.s_m[k - 1], b.s_m[k] - b.s_m[k - 1]));
  }
  return result;
}

std::optional<MeanCourse> mean_course_of(const Run& one, const Run& other) {
  std::vector<double> marks_mps;
  for (const Split& split : one.splits) {
    for (const Mark& mark : {split.spec.from, split.spec.to}) {
      const auto* speed = std::get_if<Speed>(&mark);
      if (speed != nullptr && speed->mps() > 0.0 && find_split(other, split.spec.name) != nullptr) {
        marks_mps.push_back(speed->mps());
      }
    }
  }
  return mean_course(one, other, std::move(marks_mps));
}

}  // namespace bothways
