#include "bothways/launch/leave_one_out.hpp"

#include "bothways/launch/posterior.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace bothways {

namespace {

constexpr LaunchGrid instant_grid{12, 9};  // an instant off by 0.05 s makes outliers of good readings
constexpr double surely_moving_sds = 5.0;  // of the noise at rest
constexpr int rounds = 4;
// Nine readings in a hundred of raw Doppler speeds in a city are beyond four robust sd: a contaminated normal
// of this scale fits them; fewer are taken here, where most logs are ridden under an open sky.
constexpr double contaminated_share = 0.05;
constexpr double contaminated_scale = 9.0;  // of the sd
constexpr double outlier_weight = 0.1;
constexpr double least_judging_sd_mps = 0.02;  // of speeds: what is nearer to the path is not wild

/// In the launch a reading is judged only if it surely moves.
bool is_judged(const Reading& reading, const LaunchWindow& window, const LaunchModel& model) {
  const bool moves = reading.t_s >= window.range.latest_s ||
                     reading.z > surely_moving_sds * model.rest_sd + 0.5 * model.rounding_mps;
  return (reading.kind == Reading::Kind::speed && moves) || reading.kind == Reading::Kind::position;
}

/// What all other readings say of one.
struct LeaveOneOut {
  double residual = 0.0;
  double variance = 0.0;  ///< of their prediction, without the reading's own noise
};

/// From the smoothed state, in which the reading has had a say with variance r: [RTS65] without it.
LeaveOneOut leave_one_out(const numeric::State& mean, const numeric::StateMatrix& cov,
                          const numeric::State& row, double z, double r) {
  const double p = std::min(row.dot(cov * row), 0.999 * r);
  return {(z - row.dot(mean)) * r / (r - p), p * r / (r - p)};
}

/// Expected precision of a reading over that of the white noise alone.
double weight_of(const LeaveOneOut& out, double white_variance) {
  const double wide = contaminated_scale * contaminated_scale * white_variance;
  const double good = std::log(1.0 - contaminated_share) +
                      numeric::log_density({0.0, out.variance + white_variance}, out.residual);
  const double bad =
      std::log(contaminated_share) + numeric::log_density({0.0, out.variance + wide}, out.residual);
  const double odds = std::exp(std::min(bad - good, 700.0));
  return (1.0 + odds / (contaminated_scale * contaminated_scale)) / (1.0 + odds);
}

/// Weights (readings) under a smoothed path of the window whose readings have these weights now.
std::vector<double> next_weights(const SmoothedPath& path, const LaunchWindow& window,
                                 const LaunchModel& model, const std::vector<double>& now,
                                 const SpeedFilter& filter) {
  numeric::MotionModel motion = model.motion;
  motion.filter = filter;
  const numeric::State row = model.positions ? numeric::position_row() : numeric::speed_row(motion);
  const double least = model.positions ? 0.0 : least_judging_sd_mps * least_judging_sd_mps;
  std::vector<double> next(now.size(), 1.0);
  std::size_t point = 1;
  for (std::size_t i = 0; i < window.readings.size(); ++i) {
    const Reading& reading = window.readings[i];
    while (point + 1 < path.t_s.size() && path.t_s[point] < reading.t_s) {
      ++point;
    }
    if (path.t_s[point] == reading.t_s && is_judged(reading, window, model)) {
      const double white = reading.variance * model.white_factor;
      next[i] = weight_of(leave_one_out(path.mean[point], path.cov[point], row, reading.z, white / now[i]),
                          std::max(white, least));
    }
  }
  return next;
}

LaunchWindow with_weights(const LaunchWindow& window, const std::vector<double>& weights) {
  LaunchWindow out = window;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    out.readings[i].variance /= weights[i];
  }
  return out;
}

}  // namespace

WeightedWindow weighted_readings(const LaunchWindow& window, const LaunchModel& model,
                                 const LaunchHypothesis& hypothesis) {
  std::vector<double> weights(window.readings.size(), 1.0);
  for (int round = 0; round < rounds; ++round) {
    const SmoothedPath path = likeliest_path(with_weights(window, weights), model, hypothesis, instant_grid);
    std::vector<double> next = next_weights(path, window, model, weights, hypothesis.filter);
    const bool settled = std::equal(weights.begin(), weights.end(), next.begin(),
                                    [](double a, double b) { return std::abs(a - b) < 0.05; });
    weights = std::move(next);
    if (settled) {
      break;
    }
  }
  return {with_weights(window, weights),
          static_cast<std::size_t>(
              std::count_if(weights.begin(), weights.end(), [](double w) { return w < outlier_weight; }))};
}

}  // namespace bothways
