#include "bothways/numeric/kalman.hpp"

#include "lib/numeric/dense.hpp"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

using namespace bothways::numeric;
using Catch::Matchers::WithinAbs;

namespace {

/// Four uneven steps with a jerk in two of them.
DenseRide short_ride(double lag_s) {
  const MotionModel model{4.0, {lag_s}, 0.2, 5.0};
  DenseRide ride;
  ride.prior.mean << 0.0, 0.0, 2.0, 0.03, 0.0, 0.0;
  ride.prior.cov(i_a, i_a) = 1.5;
  ride.prior.cov(i_e, i_e) = 0.04;
  for (const double dt_s : {0.03, 0.1, 0.25, 0.1}) {
    ride.step.push_back(transition_of(model, dt_s));
    ride.input.push_back((dt_s == 0.1 ? 3.0 : 0.0) * ride.step.back().g);
  }
  ride.row.assign(5, speed_row(model));
  ride.z.resize(5);
  ride.z << 0.1, 0.05, 0.3, 0.9, 1.2;
  ride.variance = Eigen::VectorXd::Constant(5, 0.01);
  return ride;
}

}  // namespace

TEST_CASE("the Kalman filter ends where the joint normal of all states does", "[numeric]") {
  for (const double lag_s : {0.0, 0.2}) {
    INFO("lag " << lag_s << " s");
    const DenseRide ride = short_ride(lag_s);
    const DensePosterior dense = dense_posterior(ride);
    Gaussian x = ride.prior;
    double log_likelihood = 0.0;
    for (std::size_t k = 0; k < ride.row.size(); ++k) {
      if (k > 0) {
        x = predict(x, ride.step[k - 1], ride.input[k - 1].isZero() ? 0.0 : 3.0);
      }
      const auto at = static_cast<Eigen::Index>(k);
      const Normal predicted = predicted_measurement(x, ride.row[k], ride.variance(at));
      log_likelihood += log_density(predicted, ride.z(at));
      x = update(x, ride.row[k], predicted, {ride.z(at), 0.0});
    }
    CHECK_THAT(log_likelihood, WithinAbs(dense.log_likelihood, 1e-10));
    CHECK((x.mean - dense.state(4)).cwiseAbs().maxCoeff() < 1e-12);
    CHECK((x.cov - dense.block(4, 4)).cwiseAbs().maxCoeff() < 1e-12);
  }
}

TEST_CASE("a measurement that is known no better than predicted changes nothing", "[numeric]") {
  const DenseRide ride = short_ride(0.0);
  const Gaussian x = predict(ride.prior, ride.step[2]);
  const Normal predicted = predicted_measurement(x, ride.row[0], 0.01);
  const Gaussian after = update(x, ride.row[0], predicted, predicted);
  CHECK(after.mean == x.mean);
  CHECK(after.cov == x.cov);
}

TEST_CASE("a moment-matched update gives the measured part the moments it is told", "[numeric]") {
  const DenseRide ride = short_ride(0.2);
  const Gaussian x = predict(ride.prior, ride.step[2]);
  const Normal predicted = predicted_measurement(x, ride.row[0], 0.0);
  const Gaussian after = update(x, ride.row[0], predicted, {0.4, 0.3 * predicted.variance});
  const Normal now = predicted_measurement(after, ride.row[0], 0.0);
  CHECK_THAT(now.mean, WithinAbs(0.4, 1e-14));
  CHECK_THAT(now.variance, WithinAbs(0.3 * predicted.variance, 1e-14));
}
