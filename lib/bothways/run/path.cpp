#include "bothways/run/path.hpp"

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

}  // namespace

void fill_covariances(Path& path, std::size_t last) {
  path.cov.clear();
  path.cov.push_back(path.node.start.cov);
  for (std::size_t i = 0; i < last; ++i) {
    const numeric::Conditional& step = path.step(i);
    StateMatrix next = step.c;
    next.noalias() += step.a * path.cov.back() * step.a.transpose();
    path.cov.push_back(next);
  }
}

std::optional<Crossing> first_crossing(const Path& path, const Level& level, double end_s) {
  for (std::size_t i = 0; i + 1 < path.size() && path.t(i) < end_s; ++i) {
    const double y0 = path.mean(i)(level.row);
    const double y1 = path.mean(i + 1)(level.row);
    if (!(y0 < level.value && level.value <= y1)) {
      continue;
    }
    const numeric::Cubic cubic = piece(path, i, level.row);
    const auto t = numeric::rising_crossing(cubic, level.value);
    if (!t || *t > end_s) {
      return std::nullopt;
    }
    const double least = level.row == numeric::i_v ? least_accel_mps2 : least_speed_mps;
    return Crossing{*t, std::max(cubic.slope(*t), least), i + 1, level.row};
  }
  return std::nullopt;
}

double variance_of(const Path& path, const Crossing& at) {
  return std::max(0.0, path.cov[at.index](at.row, at.row)) / (at.slope * at.slope);
}

std::vector<double> covariances_with(const Path& path, const Crossing& from,
                                     const std::vector<std::optional<Crossing>>& to) {
  std::vector<double> out(to.size(), 0.0);
  std::size_t last = from.index;
  for (const auto& crossing : to) {
    if (crossing) {
      last = std::max(last, crossing->index);
    }
  }
  State u = path.cov[from.index].col(from.row);
  for (std::size_t i = from.index; i <= last; ++i) {
    for (std::size_t k = 0; k < to.size(); ++k) {
      if (to[k] && to[k]->index == i) {
        out[k] = u(to[k]->row) / (from.slope * to[k]->slope);
      }
    }
    if (i < last) {
      u = path.step(i).a * u;
    }
  }
  return out;
}

double travel_at(const Path& path, const Crossing& at) {
  return piece(path, at.index - 1, numeric::i_s).value(at.t_s);
}

}  // namespace bothways
