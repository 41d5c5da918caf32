#include "support/simulate/two_way.hpp"

#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <variant>
#include <vector>

namespace bothways::sim {

namespace {

/// First times of the speeds step, 2 step, ... up to top, from the first movement.
std::vector<double> passings(const Truth& truth, const TrueStart& start, double step_mps, std::size_t count) {
  std::vector<double> times;
  TruthRow last = truth.rows[start.first_row];
  for (std::size_t i = start.first_row + 1; i <= start.last_row && times.size() < count; ++i) {
    const TruthRow& row = truth.rows[i];
    while (times.size() < count && row.v_mps >= step_mps * static_cast<double>(times.size() + 1)) {
      const double level = step_mps * static_cast<double>(times.size() + 1);
      const double part = row.v_mps > last.v_mps ? (level - last.v_mps) / (row.v_mps - last.v_mps) : 1.0;
      times.push_back(last.t_s + (row.t_s - last.t_s) * part - start.movement_s);
    }
    last = row;
  }
  return times;
}

}  // namespace

double two_way_truth_s(const Truth& one, const TrueStart& one_start, const Truth& other,
                       const TrueStart& other_start, const SplitSpec& spec) {
  const auto* to = std::get_if<Speed>(&spec.to);
  const auto* from = std::get_if<Speed>(&spec.from);
  if (to == nullptr || from == nullptr) {
    throw std::invalid_argument("two ways are known for splits of speed only");
  }
  const auto count = static_cast<std::size_t>(std::lround(to->mps() / 0.02));
  const double step_mps = to->mps() / static_cast<double>(count);
  const auto a = passings(one, one_start, step_mps, count);
  const auto b = passings(other, other_start, step_mps, count);
  if (a.size() < count || b.size() < count) {
    throw std::invalid_argument("a run does not reach the split");
  }
  double t_s = 0.0;
  double s_m = 0.0;
  double begin_s = 0.0;
  bool begun = false;
  double last_a = 0.0;
  double last_b = 0.0;
  for (std::size_t i = 0; i < count; ++i) {
    const double da = a[i] - last_a;
    const double db = b[i] - last_b;
    const double dt = da > 0.0 && db > 0.0 ? 2.0 / (1.0 / da + 1.0 / db) : 0.0;
    const double v_mps = step_mps * (static_cast<double>(i) + 0.5);
    const double ds = v_mps * dt;
    const double v_end = step_mps * static_cast<double>(i + 1);
    if (!begun && spec.from_rest() && s_m + ds >= rollout_m) {
      begin_s = t_s + dt * (rollout_m - s_m) / ds;
      begun = true;
    }
    t_s += dt;
    s_m += ds;
    if (!begun && !spec.from_rest() && v_end >= from->mps() - 0.5 * step_mps) {
      begin_s = t_s + dt * (from->mps() - v_end) / step_mps;
      begun = true;
    }
    last_a = a[i];
    last_b = b[i];
  }
  return t_s - begin_s;
}

}  // namespace bothways::sim
