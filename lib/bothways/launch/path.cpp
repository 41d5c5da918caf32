#include "bothways/launch/path.hpp"

#include "bothways/numeric/crossing.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::State;
using numeric::StateMatrix;

namespace {

constexpr double least_accel_mps2 = 0.05;  // a slower crossing has no time worth the name
constexpr double least_speed_mps = 0.05;

numeric::Cubic piece(const Path& path, std::size_t i, int row) {
  return {path.t(i),
          path.t(i + 1),
          path.mean(i)(row),
          path.mean(i + 1)(row),
          path.mean(i)(row + 1),
          path.mean(i + 1)(row + 1)};
}

/// Index into path.onwards of a point that it tells of.
std::size_t onwards_at(const Path& path, std::size_t point) {
  return path.node.first + point - 1 - path.onwards->from;
}

/// Covariance of one part of the state at a point with all of it there.
State covariance_of(const Path& path, std::size_t point, int row) {
  if (point < path.cov.size()) {
    return path.cov[point].col(row);
  }
  const std::size_t k = onwards_at(path, point);
  const StateMatrix& a = path.onwards->a[k];
  const State before = path.cov.back() * a.row(row).transpose();
  return a * before + path.onwards->c[k].col(row);
}

/// Variance of one part of the state at a point.
double variance_at(const Path& path, std::size_t point, int row) {
  if (point < path.cov.size()) {
    return path.cov[point](row, row);
  }
  const std::size_t k = onwards_at(path, point);
  const auto a = path.onwards->a[k].row(row);
  return a.dot(path.cov.back() * a.transpose()) + path.onwards->c[k](row, row);
}

}  // namespace

Onwards onwards_from(const LaunchTimes& times, std::size_t from) {
  const std::size_t n = times.t_s.size() - from;
  Onwards out{from, {}, {}};
  out.a.assign(n, StateMatrix::Identity());
  out.c.assign(n, StateMatrix::Zero());
  for (std::size_t k = 0; k + 1 < n; ++k) {
    const numeric::Conditional& step = times.forward[from + k];
    out.a[k + 1].noalias() = step.a * out.a[k];
    out.c[k + 1] = numeric::spread_on(out.c[k], step);
  }
  return out;
}

void fill_covariances(Path& path, const Onwards& onwards) {
  path.onwards = &onwards;
  fill_covariances(path, onwards.from + 1 - path.node.first);
}

void fill_covariances(Path& path, std::size_t last) {
  path.cov.assign(last + 1, StateMatrix::Zero());
  path.cov[0] = path.node.start.cov;
  for (std::size_t i = 0; i < last; ++i) {
    path.cov[i + 1] = numeric::spread_on(path.cov[i], path.step(i));
  }
}

std::optional<Crossing> first_crossing(const Path& path, const Level& level, double end_s, std::size_t from) {
  double before = path.mean(from)(level.row);
  for (std::size_t i = from; i + 1 < path.size(); ++i) {
    const double after = path.mean(i + 1)(level.row);
    if (!(before < level.value && level.value <= after)) {
      before = after;
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

double variance_of(const Path& path, const Crossing& at) {
  return std::max(0.0, variance_at(path, at.index, at.row)) / (at.slope * at.slope);
}

std::vector<double> covariances_with(const Path& path, const Crossing& from,
                                     const std::vector<std::optional<Crossing>>& to) {
  std::vector<double> out(to.size(), 0.0);
  State u = covariance_of(path, from.index, from.row);  // of what is crossed there with the state at `at`
  std::size_t at = from.index;
  // From a point on all paths have the same steps, which `onwards` has together.
  const std::size_t joined = path.cov.size() - 1;
  const std::size_t stepwise = from.index <= joined ? joined : path.size();
  for (std::size_t k = 0; k < to.size(); ++k) {
    if (!to[k] || to[k]->index < at) {
      continue;
    }
    for (; at < std::min(to[k]->index, stepwise); ++at) {
      u = path.step(at).a * u;
    }
    const bool beyond = to[k]->index > at;
    const double cov =
        beyond ? path.onwards->a[onwards_at(path, to[k]->index)].row(to[k]->row).dot(u) : u(to[k]->row);
    out[k] = cov / (from.slope * to[k]->slope);
  }
  return out;
}

double travel_at(const Path& path, const Crossing& at) {
  return piece(path, at.index - 1, numeric::i_s).value(at.t_s);
}

}  // namespace bothways
