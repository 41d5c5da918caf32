#include "bothways/launch/backward_pass.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace bothways {

using numeric::Information;
using numeric::Measurement;
using numeric::State;

namespace {

constexpr double early_step_s = 0.1;    // longest step while the launch is near
constexpr double late_step_s = 0.25;    // longest step later
constexpr double early_span_s = 2.5;    // how long the launch is near, after the first moving reading
constexpr double same_step_s = 1.5e-6;  // stamps are in microseconds: steps of 1/18 s differ by one

/// The reading at a time of the linear part; nothing if it has no say there.
std::optional<Measurement> measurement_at(const BackwardPass& pass, std::size_t k) {
  if (pass.grid.reading[k] < 0) {
    return std::nullopt;
  }
  const Reading& reading = pass.window.readings[static_cast<std::size_t>(pass.grid.reading[k])];
  if (reading.kind == Reading::Kind::censored || reading.kind == Reading::Kind::excluded) {
    return std::nullopt;
  }
  return Measurement{pass.row, reading.z, variance_in_motion(pass, reading)};
}

SpeedFilter filter_at(const TimeGrid& grid, std::size_t k, const SpeedFilter& filter) {
  return filter.at(grid.shown_mps[k]);
}

std::vector<numeric::Transition> transitions(const TimeGrid& grid, const numeric::MotionModel& motion) {
  std::vector<numeric::Transition> out;
  out.reserve(grid.t_s.size());
  for (std::size_t k = 1; k < grid.t_s.size(); ++k) {
    const double dt_s = grid.t_s[k] - grid.t_s[k - 1];
    const bool same = k > 1 && std::abs(dt_s - (grid.t_s[k - 1] - grid.t_s[k - 2])) < same_step_s &&
                      grid.jerk_factor[k] == grid.jerk_factor[k - 1] &&
                      filter_at(grid, k, motion.filter) == filter_at(grid, k - 1, motion.filter);
    out.push_back(same ? out.back() : transition_to(grid, k, motion, dt_s));
  }
  return out;
}

/// Each time's steps to the next reading in one, for the covariance of the forward pass: of a phone ten. It
/// saves a third of a run of 1 Hz (tests/bench, launch_fit/phone_1hz).
std::vector<numeric::Transition> leaps(const BackwardPass& pass) {
  std::vector<numeric::Transition> out(pass.linear_from);
  for (std::size_t k = pass.linear_from; k-- > 0;) {
    const bool last = k + 1 == pass.linear_from || pass.grid.reading[k + 1] >= 0;
    out[k] = last ? pass.step[k] : numeric::joined(pass.step[k], out[k + 1]);
  }
  return out;
}

}  // namespace

TimeGrid time_grid(const LaunchWindow& window, double early_jerk_factor) {
  const LaunchRange& range = window.range;
  TimeGrid grid;
  double last_s = range.earliest_s;
  double last_mps = 0.0;
  for (std::size_t i = 0; i < window.readings.size(); ++i) {
    const Reading& reading = window.readings[i];
    const double t_s = reading.t_s;
    if (t_s <= range.earliest_s) {
      continue;
    }
    const double shown_mps = reading.kind == Reading::Kind::excluded ? last_mps : reading.z;
    const double longest_s = t_s < range.latest_s + early_span_s ? early_step_s : late_step_s;
    const int parts = std::max(1, static_cast<int>(std::ceil((t_s - last_s) / longest_s - 1e-9)));
    for (int k = 1; k <= parts; ++k) {
      grid.t_s.push_back(k == parts ? t_s : last_s + (t_s - last_s) * k / parts);
      grid.reading.push_back(k == parts ? static_cast<int>(i) : -1);
      grid.jerk_factor.push_back(t_s <= range.early_end_s + 1e-9 ? early_jerk_factor : 1.0);
      grid.shown_mps.push_back(last_mps + (shown_mps - last_mps) * (k - 0.5) / parts);
    }
    last_s = t_s;
    last_mps = shown_mps;
    if (t_s <= range.latest_s + 1e-9) {
      grid.moving = grid.t_s.size() - 1;
    }
  }
  return grid;
}

numeric::Transition transition_to(const TimeGrid& grid, std::size_t k, numeric::MotionModel motion,
                                  double dt_s) {
  motion.filter = filter_at(grid, k, motion.filter);
  return numeric::transition_of(motion, dt_s, grid.jerk_factor[k]);
}

BackwardPass backward_pass(const LaunchWindow& window, const LaunchModel& model,
                           const LaunchHypothesis& hypothesis) {
  BackwardPass pass{window, model, {}, time_grid(window, hypothesis.early_jerk_factor), 0, {}, {}, {}, {}};
  pass.model.motion.filter = hypothesis.filter;
  pass.row = model.positions ? numeric::position_row() : numeric::speed_row(pass.model.motion);
  pass.linear_from = model.positions ? 0 : pass.grid.moving;
  pass.step = transitions(pass.grid, pass.model.motion);
  pass.leap = leaps(pass);
  const std::size_t n = pass.grid.t_s.size();
  pass.gain.resize(n - 1);
  pass.info.resize(n);
  if (const auto measurement = measurement_at(pass, n - 1)) {
    pass.info[n - 1] = numeric::update({}, *measurement);
  }
  for (std::size_t k = n - 1; k-- > pass.linear_from;) {
    pass.gain[k] = numeric::backward_gain(pass.step[k], pass.info[k + 1].matrix);
    pass.info[k] = information_before(pass, k, pass.info[k + 1], State::Zero());
  }
  return pass;
}

double variance_in_motion(const BackwardPass& pass, const Reading& reading) {
  return reading.variance * pass.model.white_factor;
}

Information information_before(const BackwardPass& pass, std::size_t k, const Information& next,
                               const State& input) {
  const Information before = numeric::predict_back(pass.gain[k], next, input);
  const auto measurement = measurement_at(pass, k);
  return measurement ? numeric::update(before, *measurement) : before;
}

}  // namespace bothways
