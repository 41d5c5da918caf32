#include "truth/population/filter.hpp"

#include <algorithm>
#include <cmath>

namespace bothways::population {

Filter::Filter(const DeviceSmoothing& smoothing, double first)
    : smoothing_(smoothing), stages_{first, first} {
  const int orders = smoothing.law == DeviceSmoothing::Law::second ? 2 : 1;
  keep_ = std::exp(-filter_step_s * orders / std::max(1e-9, smoothing.delay_s));
  if (smoothing.law == DeviceSmoothing::Law::boxcar) {
    const double steps = std::max(1.0, std::round(2.0 * smoothing.delay_s / filter_step_s));
    window_.assign(static_cast<std::size_t>(steps), first);
    sum_ = first * steps;
  }
}

double Filter::step(double value) {
  if (smoothing_.law == DeviceSmoothing::Law::boxcar) {
    sum_ += value - window_[next_];
    window_[next_] = value;
    next_ = (next_ + 1) % window_.size();
    return sum_ / static_cast<double>(window_.size());
  }
  stages_[0] = keep_ * stages_[0] + (1.0 - keep_) * value;
  if (smoothing_.law == DeviceSmoothing::Law::first) {
    return stages_[0];
  }
  stages_[1] = keep_ * stages_[1] + (1.0 - keep_) * stages_[0];
  return stages_[1];
}

double Filter::gain(const DeviceSmoothing& smoothing) {
  Filter filter(smoothing, 0.0);
  double square = 0.0;
  for (int i = 0; i < 1000; ++i) {  // ten seconds: longer than any answer
    const double answer = filter.step(i == 0 ? 1.0 : 0.0);
    square += answer * answer;
  }
  return std::sqrt(square);
}

SmoothedMotion::SmoothedMotion(const sim::Truth& truth, const DeviceSmoothing& smoothing)
    : reader_(truth),
      smooths_(smoothing.delay_s > 0.0),
      filters_{Filter(smoothing, 0.0), Filter(smoothing, 0.0), Filter(smoothing, truth.rows.front().x_m),
               Filter(smoothing, truth.rows.front().y_m)},
      before_(truth_at(0.0)),
      now_(before_) {}

Motion SmoothedMotion::truth_at(double t_s) {
  const sim::TruthRow row = reader_.at(std::max(0.0, t_s));
  return {row.v_mps * std::cos(row.course_rad), row.v_mps * std::sin(row.course_rad), row.x_m, row.y_m};
}

Motion SmoothedMotion::at(double t_s) {
  if (!smooths_) {
    return truth_at(t_s);
  }
  while (t_s_ < t_s) {
    before_ = now_;
    t_s_ += filter_step_s;
    const Motion in = truth_at(t_s_ - 0.5 * filter_step_s);
    now_ = {filters_[0].step(in.vx_mps), filters_[1].step(in.vy_mps), filters_[2].step(in.x_m),
            filters_[3].step(in.y_m)};
  }
  const double back = std::clamp((t_s_ - t_s) / filter_step_s, 0.0, 1.0);
  const auto between = [back](double before, double now) { return now + back * (before - now); };
  return {between(before_.vx_mps, now_.vx_mps), between(before_.vy_mps, now_.vy_mps),
          between(before_.x_m, now_.x_m), between(before_.y_m, now_.y_m)};
}

}  // namespace bothways::population
