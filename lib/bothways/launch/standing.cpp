#include "bothways/launch/standing.hpp"

#include "bothways/launch/reading_law.hpp"

#include <algorithm>
#include <cmath>

namespace bothways {

using numeric::LevelChain;

namespace {

constexpr double highest_sds = 3.6;        // of the grid, in sd of the slow error
constexpr double least_white_share = 0.2;  // of the variance at rest
constexpr double least_slow_share = 0.01;
constexpr double jolt_share = 0.02;  // a jolt of the stand or a stray reading must not decide
constexpr double jolt_sds = 4.0;
constexpr double settling_s = 2.0;  // what was read longer ago says little of the slow error now

}  // namespace

StandingLaw::StandingLaw(const LaunchModel& model) : model_(model) {
  const double rest = model.standing_sd * model.standing_sd;
  const double slow = std::clamp(model.motion.slow_sd * model.motion.slow_sd, least_slow_share * rest,
                                 (1.0 - least_white_share) * rest);
  white_variance_ =
      rest - slow + model.resolution_mps * model.resolution_mps / 12.0;  // rounding to 0 hides noise
  constexpr double step_sds = highest_sds / LevelChain::levels;
  step_mps_ = step_sds * std::sqrt(slow);
  LevelChain::Levels stationary;
  for (int i = 0; i < LevelChain::levels; ++i) {
    const double u = (i + 0.5) * step_sds;
    stationary(i) = (model.standing_axes == 2 ? u : 1.0) * std::exp(-0.5 * u * u);
  }
  // As fast as a Gauss-Markov process of this time diffuses over one step.
  chain_.emplace(stationary, 1.0 / (model.motion.slow_time_s * step_sds * step_sds));
}

double StandingLaw::take(const Reading& reading) {
  if (any_) {
    chain_->wait(reading.t_s - t_s_);
  }
  any_ = true;
  t_s_ = reading.t_s;
  if (reading.kind != Reading::Kind::speed) {
    return 0.0;
  }
  const double z = not_rounded_away(reading.z, model_);
  const double wide = jolt_sds * jolt_sds * model_.standing_sd * model_.standing_sd;
  const double jolt = jolt_share * std::exp(length_says(z, 0.0, wide, model_.standing_axes).log_density);
  LevelChain::Levels likelihood;
  for (int i = 0; i < LevelChain::levels; ++i) {
    const LengthSays says = length_says(z, (i + 0.5) * step_mps_, white_variance_, model_.standing_axes);
    likelihood(i) = (1.0 - jolt_share) * std::exp(says.log_density) + jolt;
  }
  return std::log(chain_->weigh(likelihood)) + log_not_held(model_.hold, 0.0, model_.standing_sd);
}

double StandingLaw::slow_variance() const {
  double squares = 0.0;
  for (int i = 0; i < LevelChain::levels; ++i) {
    const double level = (i + 0.5) * step_mps_;
    squares += chain_->belief()(i) * level * level;
  }
  return squares / model_.standing_axes;
}

void read_at_rest(std::vector<Reading>& readings, const LaunchModel& model, const LaunchRange& range) {
  StandingLaw law(model);
  for (Reading& reading : readings) {
    if (reading.t_s > range.latest_s) {
      break;
    }
    const bool settled = reading.t_s >= range.earliest_s - settling_s;
    reading.standing_log_p = settled ? law.take(reading) : 0.0;
    reading.standing_slow_variance = law.slow_variance();
  }
}

}  // namespace bothways
