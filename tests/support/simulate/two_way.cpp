#include "support/simulate/two_way.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <variant>
#include <vector>

namespace bothways::sim {

namespace {

/// Upper ends of the bands of speed: narrow while the launch goes by, then 1 m/s wide, so that a gear change
/// of both runs falls into one band however little the speeds of the change differ.
std::vector<double> band_ends(double from_mps, double to_mps) {
  constexpr double narrow_mps = 0.02;
  constexpr double launch_mps = 4.0;
  std::vector<double> ends;
  for (int i = 1; narrow_mps * i < launch_mps - 1e-9; ++i) {
    ends.push_back(narrow_mps * i);
  }
  for (double v = launch_mps; v < to_mps; v += 1.0) {
    ends.push_back(v);
  }
  ends.erase(std::remove_if(ends.begin(), ends.end(),
                            [&](double v) { return v > to_mps - 1e-6 || std::abs(v - from_mps) < 1e-6; }),
             ends.end());
  ends.push_back(to_mps);
  if (from_mps > 0.0) {
    ends.push_back(from_mps);
  }
  std::sort(ends.begin(), ends.end());
  return ends;
}

/// First times of the speeds, from the first movement.
std::vector<double> passings(const Truth& truth, const TrueStart& start,
                             const std::vector<double>& ends_mps) {
  std::vector<double> times;
  TruthRow last = truth.rows[start.first_row];
  for (std::size_t i = start.first_row + 1; i <= start.last_row && times.size() < ends_mps.size(); ++i) {
    const TruthRow& row = truth.rows[i];
    while (times.size() < ends_mps.size() && row.v_mps >= ends_mps[times.size()]) {
      const double level = ends_mps[times.size()];
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
  const std::vector<double> ends = band_ends(from->mps(), to->mps());
  const auto a = passings(one, one_start, ends);
  const auto b = passings(other, other_start, ends);
  if (a.size() < ends.size() || b.size() < ends.size()) {
    throw std::invalid_argument("a run does not reach the split");
  }
  double t_s = 0.0;
  double s_m = 0.0;
  double begin_s = 0.0;
  bool begun = false;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    const double da = a[i] - (i > 0 ? a[i - 1] : 0.0);
    const double db = b[i] - (i > 0 ? b[i - 1] : 0.0);
    const double dt = da > 0.0 && db > 0.0 ? 2.0 / (1.0 / da + 1.0 / db) : 0.0;
    const double ds = 0.5 * (ends[i] + (i > 0 ? ends[i - 1] : 0.0)) * dt;
    if (!begun && spec.from_rest() && s_m + ds >= rollout_m) {
      begin_s = t_s + dt * (rollout_m - s_m) / ds;
      begun = true;
    }
    t_s += dt;
    s_m += ds;
    if (!begun && !spec.from_rest() && ends[i] >= from->mps()) {
      begin_s = t_s;
      begun = true;
    }
  }
  return t_s - begin_s;
}

}  // namespace bothways::sim
