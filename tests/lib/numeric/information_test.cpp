#include "bothways/numeric/information.hpp"

#include "lib/numeric/dense.hpp"
#include "support/simulate/random.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

namespace {

/// Twelve instants at uneven distances; a jerk of the vehicle in some of the steps.
DenseRide uneven_ride(const MotionModel& motion, bool positions, bool with_input) {
  const std::vector<double> dt_s{0.1, 0.02, 0.25, 0.1, 0.1, 0.07, 0.4, 1.0, 0.1, 0.003, 0.15};
  bothways::sim::Random random(7);
  DenseRide ride;
  ride.prior.mean << 0.3, 1.0, 2.0, 0.8, 0.02, 0.1;
  // Correlated, and sure of the travel: nothing may be divided by it.
  Eigen::Matrix<double, state_size, 3> spread;
  spread << 0, 0, 0, 0.5, 0.2, 0, 1.0, -0.3, 0, 0.4, 0.1, 0.1, 0, 0, 0.05, 0.1, 0, 0.2;
  ride.prior.cov = spread * spread.transpose();
  const auto n = static_cast<Eigen::Index>(dt_s.size() + 1);
  ride.z.resize(n);
  ride.variance.resize(n);
  for (Eigen::Index k = 0; k < n; ++k) {
    ride.row.push_back(positions ? position_row() : speed_row(motion));
    ride.z(k) = 1.0 + 0.4 * static_cast<double>(k) + 0.1 * random.normal();
    ride.variance(k) = k % 3 == 0 ? 0.01 : 0.0025;
  }
  for (std::size_t k = 0; k < dt_s.size(); ++k) {
    ride.step.push_back(transition_of(motion, dt_s[k], k < 3 ? 6.0 : 1.0));
    const double jerk = with_input && k < 5 ? 3.0 - static_cast<double>(k) : 0.0;
    ride.input.push_back(jerk * ride.step.back().g);
  }
  return ride;
}

struct Filtered {
  Information first;
  std::vector<SmoothedTransition> forward;
};

/// The library's pass.
Filtered filter(const DenseRide& ride) {
  Filtered out;
  out.forward.resize(ride.step.size());
  Information info;
  for (std::size_t k = ride.row.size(); k-- > 0;) {
    if (k < ride.step.size()) {
      const BackwardGain gain = backward_gain(ride.step[k], info.matrix);
      out.forward[k] = smoothed_transition(gain, info, ride.input[k]);
      info = predict_back(gain, info, ride.input[k]);
    }
    const auto at = static_cast<Eigen::Index>(k);
    info = update(info, {ride.row[k], ride.z(at), ride.variance(at)});
  }
  out.first = info;
  return out;
}

void check_against_dense(const DenseRide& ride) {
  const DensePosterior dense = dense_posterior(ride);
  const Filtered filtered = filter(ride);
  const Posterior joined = combine(ride.prior, filtered.first);
  CHECK_THAT(joined.log_likelihood, WithinAbs(dense.log_likelihood, 1e-8));
  CHECK_THAT(log_likelihood(ride.prior, filtered.first), WithinAbs(dense.log_likelihood, 1e-8));
  Gaussian belief = joined.state;
  StateMatrix lagged = belief.cov;  // of state k with state 0
  for (std::size_t k = 0; k < ride.row.size(); ++k) {
    const auto at = static_cast<Eigen::Index>(k);
    INFO("instant " << k);
    CHECK((belief.mean - dense.state(at)).cwiseAbs().maxCoeff() < 1e-8);
    CHECK((belief.cov - dense.block(at, at)).cwiseAbs().maxCoeff() < 1e-8);
    CHECK((lagged - dense.block(at, 0)).cwiseAbs().maxCoeff() < 1e-8);
    if (k < ride.step.size()) {
      const StateMatrix neighbour = filtered.forward[k].a * belief.cov;
      CHECK((neighbour - dense.block(at + 1, at)).cwiseAbs().maxCoeff() < 1e-8);
      lagged = filtered.forward[k].a * lagged;
      belief = predict(belief, filtered.forward[k]);
    }
  }
}

}  // namespace

TEST_CASE("the backward information filter agrees with the joint normal of all states: speeds, no lag",
          "[numeric]") {
  check_against_dense(uneven_ride({4.0, {0.0}, 0.05, 5.0}, false, false));
}

TEST_CASE("the backward information filter agrees with the joint normal of all states: speeds that lag",
          "[numeric]") {
  check_against_dense(uneven_ride({4.0, {0.3}, 0.05, 5.0}, false, false));
}

TEST_CASE(
    "the backward information filter agrees with the joint normal of all states: lag, slow error and an "
    "input",
    "[numeric]") {
  check_against_dense(uneven_ride({20.0, {0.15}, 0.2, 1.5}, false, true));
}

TEST_CASE("the backward information filter agrees with the joint normal of all states: drifting positions",
          "[numeric]") {
  check_against_dense(uneven_ride({4.0, {0.0}, 1.5, 60.0, 0.6, 1.8}, true, true));
}

TEST_CASE("without a later reading the smoothed transition is the plain one", "[numeric]") {
  const Transition step = transition_of({4.0, {0.2}, 0.05, 5.0}, 0.3);
  const BackwardGain gain = backward_gain(step, StateMatrix::Zero());
  Gaussian x;
  x.mean << 1, 2, 3, 4, 5, 6;
  x.cov.diagonal() << 1, 2, 3, 4, 5, 6;
  const Gaussian plain = predict(x, step, 2.0);
  const Gaussian smoothed = predict(x, smoothed_transition(gain, {}, 2.0 * step.g));
  CHECK((plain.mean - smoothed.mean).cwiseAbs().maxCoeff() < 1e-14);
  CHECK((plain.cov - smoothed.cov).cwiseAbs().maxCoeff() < 1e-14);
  CHECK(gain.half_log_det == 0.0);
  CHECK(combine(x, {}).log_likelihood == 0.0);
}

TEST_CASE("one measurement has the normal density of its prediction", "[numeric]") {
  // N(3; 1, 4 + 0.25): written out by hand.
  Gaussian prior;
  prior.mean(i_v) = 1.0;
  prior.cov(i_v, i_v) = 4.0;
  const Information info = update(Information{}, {speed_row({}), 3.0, 0.25});
  CHECK_THAT(log_likelihood(prior, info),
             WithinAbs(-0.5 * (4.0 / 4.25 + std::log(2.0 * std::numbers::pi * 4.25)), 1e-14));
}
